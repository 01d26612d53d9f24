// A batch that was started without a connection: it stands in the stack until it can be sent.
import { formatClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import type { Kept } from '../../state/kept.ts';
import { $words } from '../../state/sources.ts';
import { StageShape } from '../shapes.tsx';

/** The slip of a kept start. */
export function KeptSlip({ entry }: { readonly entry: Kept }) {
  const { slip, stage } = $words.value;
  return (
    <article class="slip" data-tone="idle" aria-label={entry.panel}>
      <div class="slip-head">
        <h2 class="slip-panel">{entry.panel}</h2>
      </div>
      <div class="face">
        <p class="face-stage">
          <StageShape stage="wet" />
          {stage.wet}
        </p>
        <p>{slip.keptStart(formatClock(entry.tappedAt, $place.value))}</p>
      </div>
    </article>
  );
}
