// What came of a trial, beside what was tried.
import { troubleText } from '../../format/notifyText.ts';
import { $trials, type TrialState } from '../../state/notifications.ts';
import { $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';

/** The outcome; nothing before the first trial. */
export function TrialSaid({ channelId }: { readonly channelId: string }) {
  const state = $trials.value[channelId];
  const isWrong = state === 'unanswered' || (typeof state === 'object' && !state.delivered);
  return (
    <div class="setup-said entry-said" role="status">
      {state === undefined ? null : (
        <p class="setup-said-line" data-tone={isWrong ? 'warn' : 'plain'}>
          <SmallSign name={isWrong ? 'warn' : 'plain'} />
          <span>{saidOf(state, channelId)}</span>
        </p>
      )}
    </div>
  );
}

function saidOf(state: TrialState, channelId: string): string {
  const { notify: words } = $words.value;
  if (state === 'trying') return words.trying;
  if (state === 'unanswered') return words.unanswered;
  if (state.trouble !== null) return words.failed(troubleText(state.trouble, $words.value));
  // What a phone shows is told, so that people know what to look for.
  return channelId.startsWith('push:') ? `${words.tried} ${words.trialText}` : words.tried;
}
