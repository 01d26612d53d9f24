// What was finished a moment ago, below the stack: one tap to its next layer, and the way back for as long as there is one.
import type { BatchWire } from '../../../server/contract/index.ts';
import { undoAct } from '../../actions/batchActs.ts';
import { openDialog } from '../../actions/deviceActs.ts';
import { formatClock } from '../../format/clock.ts';
import { formatThickness } from '../../format/numbers.ts';
import { $closedSlips, namingOf } from '../../state/computed.ts';
import { canReopen } from '../../state/justClosed.ts';
import { nextLayerOf } from '../../state/mixDraft.ts';
import { $live, $words } from '../../state/sources.ts';
import { StageShape } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';
import { SlipTrouble } from './SlipTrouble.tsx';

/** The closed slips; nothing where there is none. */
export function ClosedSlips() {
  const closed = $closedSlips.value;
  if (closed.length === 0) return null;
  return (
    <section class="closed" aria-labelledby="closed-title">
      <h2 class="closed-title" id="closed-title">
        {$words.value.closed.title}
      </h2>
      <ul class="closed-list">
        {closed.map((batch) => (
          <ClosedSlip key={batch.id} batch={batch} />
        ))}
      </ul>
    </section>
  );
}

function ClosedSlip({ batch }: { readonly batch: BatchWire }) {
  const { slip } = $words.value;
  const { card, place } = namingOf(batch.cardId);
  const made = slip.made(card?.name ?? batch.cardId, formatThickness(batch.thicknessMm, place));
  const order = batch.repairOrder === null ? [] : [slip.order(batch.repairOrder)];
  return (
    <li class="closed-slip">
      <StageShape stage={batch.stage} />
      <div class="closed-what">
        <h3 class="closed-panel">{batch.panel}</h3>
        <p class="closed-made">{[made, ...order, closedText(batch)].join(' · ')}</p>
        <SlipTrouble batch={batch} />
      </div>
      <ClosedActs batch={batch} />
    </li>
  );
}

function closedText(batch: BatchWire): string {
  const { closed } = $words.value;
  const clock = formatClock(Date.parse(batch.closedAt ?? ''), namingOf(batch.cardId).place);
  return batch.stage === 'scrapped' ? closed.scrapped(clock) : closed.sanded(clock);
}

function ClosedActs({ batch }: { readonly batch: BatchWire }) {
  const { act, closed } = $words.value;
  const { id: batchId, lastAct, panel } = batch;
  const isReopened = useClocked(batch, canReopen);
  return (
    <div class="closed-acts">
      {isReopened && lastAct !== null ? (
        <button
          type="button"
          class="quiet"
          aria-label={closed.undoFor(panel)}
          onClick={() => undoAct({ batchId, factSequence: lastAct.factSequence, panel })}
        >
          {act.undo}
        </button>
      ) : null}
      {batch.stage === 'sanded' ? (
        <button
          type="button"
          class="second"
          aria-label={closed.layerFor(panel)}
          onClick={() =>
            openDialog({
              kind: 'mix',
              preset: nextLayerOf(batch, $live.peek()?.cards ?? []),
              variant: 'layer',
            })
          }
        >
          {closed.layer}
        </button>
      ) : null}
    </div>
  );
}
