// A slip: one open batch, from its panel to the one button of its likely next act.
import type { BatchWire } from '../../../server/contract/index.ts';
import { formatClock } from '../../format/clock.ts';
import { formatThickness } from '../../format/numbers.ts';
import { epochAt } from '../../format/phase.ts';
import { formatNotes, formatReason } from '../../format/reason.ts';
import { namingOf } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { NoteLine } from '../NoteLine.tsx';
import { SmallSign } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';
import { SlipActs } from './SlipActs.tsx';
import { SlipFace } from './SlipFace.tsx';
import { SlipTrouble } from './SlipTrouble.tsx';
import { curedFraction, toneOf } from './tone.ts';

/** The slip of a batch. */
export function Slip({ batch }: { readonly batch: BatchWire }) {
  const titleId = `slip-title-${batch.id}`;
  return (
    <article
      class="slip"
      id={`slip-${batch.id}`}
      data-stage={batch.stage}
      data-tone={useClocked(batch, toneOf)}
      aria-labelledby={titleId}
      tabIndex={-1}
      style={{ '--cured': useClocked(batch, curedText) }}
    >
      <SlipHead batch={batch} titleId={titleId} />
      <SlipFace batch={batch} />
      <div class="slip-body">
        <Why batch={batch} />
        <SlipTrouble batch={batch} />
        <SlipActs batch={batch} hasMore />
      </div>
    </article>
  );
}

function curedText(batch: BatchWire, nowAt: number): string {
  return curedFraction(batch, nowAt).toFixed(2);
}

function SlipHead({ batch, titleId }: { readonly batch: BatchWire; readonly titleId: string }) {
  const { slip } = $words.value;
  const naming = namingOf(batch.cardId);
  const made = slip.made(naming.card?.name ?? batch.cardId, formatThickness(batch.thicknessMm, naming.place));
  const parts = [naming.bayName(batch.bayId), made, ...(batch.by === null ? [] : [slip.by(batch.by)])];
  return (
    <header class="slip-head">
      <h2 class="slip-panel" id={titleId}>
        {batch.panel}
      </h2>
      {batch.repairOrder === null ? null : <p class="slip-order">{slip.order(batch.repairOrder)}</p>}
      <p class="slip-made">{parts.join(' · ')}</p>
    </header>
  );
}

function Why({ batch }: { readonly batch: BatchWire }) {
  const { slip } = $words.value;
  const lampUntilAt = useClocked(batch, litUntilAt);
  if (batch.stage === 'sanding') return null;
  const naming = namingOf(batch.cardId);
  const reason = formatReason(batch, naming);
  return (
    <div class="why">
      {reason === null ? null : <p class="why-reason">{reason}</p>}
      {formatNotes(batch, naming).map((note) => (
        <NoteLine key={note.code} note={note} />
      ))}
      {lampUntilAt === null ? null : (
        <p class="why-note" data-tone="plain">
          <SmallSign name="lamp" />
          <span>{slip.lampOn(formatClock(lampUntilAt, naming.place))}</span>
        </p>
      )}
    </div>
  );
}

/** Until when the last lamp burns; null when none does any more. */
function litUntilAt(batch: BatchWire, nowAt: number): number | null {
  const untilAt = Math.max(0, ...batch.lamps.map((lamp) => epochAt(lamp.untilAt) ?? 0));
  return untilAt > nowAt ? untilAt : null;
}
