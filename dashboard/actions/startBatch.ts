// Starts a batch from what is chosen in Mix, and remembers the choice for the next one.
import { readShopNow } from '../feed/clock.ts';
import { submit } from '../feed/outbox.ts';
import { changeDevice } from '../state/device.ts';
import { lastMixOf, mistakesOf, startBodyOf, type MixDraft } from '../state/mixDraft.ts';
import { OWN_REASONS } from '../state/rejection.ts';
import { $dialog, $words, setTrouble } from '../state/sources.ts';

/** Sends the draft; closes Mix when it is stored or kept, and leaves it open with the reasons when it is refused. */
export async function startBatch(draft: MixDraft): Promise<void> {
  const { field } = $words.peek();
  const errors = mistakesOf(draft).map(({ path, kind }) => ({
    path,
    reason: OWN_REASONS[kind],
    allowed: '',
  }));
  if (errors.length > 0) return setTrouble('mix', { text: field.lookAgain, errors });
  const outcome = await submit(
    { kind: 'start', start: startBodyOf(draft, readShopNow()) },
    draft.panel.trim(),
  );
  if (outcome === 'refused') return;
  changeDevice({ lastMix: lastMixOf(draft) });
  if (outcome === 'stored') setTrouble('mix', null);
  if ($dialog.peek()?.kind === 'mix') $dialog.value = null;
}
