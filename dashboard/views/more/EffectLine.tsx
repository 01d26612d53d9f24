// What a change would bring, before it is confirmed: one sentence, with what is to be minded, or why it cannot be told.
import type { BatchWire } from '../../../server/contract/index.ts';
import { previewChange, type PreviewChange } from '../../actions/previews.ts';
import { formatEffect } from '../../format/effect.ts';
import { formatRefusal } from '../../format/refusalText.ts';
import { $place, namingOf } from '../../state/computed.ts';
import type { Previewed } from '../../state/previewed.ts';
import { rejectionText } from '../../state/rejection.ts';
import { $connection, $nowAt, $words } from '../../state/sources.ts';
import { NoteLine } from '../NoteLine.tsx';
import { usePreview } from '../usePreview.ts';

export interface EffectLineProps {
  readonly batch: BatchWire;
  readonly previewed: Previewed | null;
  /** The bay the batch would be in. */
  readonly bayId?: string;
}

/** Asks for the effect of a change on a batch, and again whenever the batch's own estimate moves. */
export function useEffectOf(batch: BatchWire, change: PreviewChange): Previewed | null {
  return usePreview({
    question: JSON.stringify([batch.id, change]),
    restsOn: JSON.stringify([batch.version, batch.estimate?.testFromAt, $connection.value]),
    ask: async (signal) => previewChange({ batch, change }, signal),
  });
}

/** The line below a form; its place is held while the answer is on its way. */
export function EffectLine({ batch, previewed, bayId = batch.bayId }: EffectLineProps) {
  const { effect } = $words.value;
  return (
    <div class="effect" role="status" aria-busy={previewed === null}>
      {previewed === null ? (
        <p class="effect-pending">{effect.pending}</p>
      ) : previewed.kind === 'unanswered' ? (
        <p class="effect-pending">{previewed.why === 'network' ? effect.network : effect.server}</p>
      ) : previewed.kind === 'refused' ? (
        <p class="field-error">{refusalText(previewed)}</p>
      ) : (
        <Told batch={batch} changed={{ ...batch, bayId, estimate: previewed.estimate }} />
      )}
    </div>
  );
}

function Told({ batch, changed }: Pick<Parameters<typeof formatEffect>[0], 'batch' | 'changed'>) {
  const { sentence, notes } = formatEffect({ batch, changed, nowAt: $nowAt.value }, namingOf(batch.cardId));
  return (
    <>
      <p class="effect-sentence">{sentence}</p>
      {notes.map((note) => (
        <NoteLine key={note.code} note={note} />
      ))}
    </>
  );
}

function refusalText({ problem }: Extract<Previewed, { kind: 'refused' }>): string {
  const words = $words.value;
  const error = problem.errors?.[0];
  if (error !== undefined) return rejectionText(error, { words, place: $place.value });
  return formatRefusal(problem, words) ?? words.trouble.refused;
}
