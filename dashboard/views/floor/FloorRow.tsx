// One row of Floor: the panel, what it waits for, what its promise has to spare; its film is drawn beside it.
import type { BatchWire } from '../../../server/contract/index.ts';
import { openDialog } from '../../actions/deviceActs.ts';
import { formatClock } from '../../format/clock.ts';
import { formatCountdownText } from '../../format/countdown.ts';
import { describeFilm, formatLikely, formatSlack } from '../../format/floorText.ts';
import { epochAt, phaseOf } from '../../format/phase.ts';
import { $mayWork } from '../../state/access.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $floorAt, $isWall, $planById } from '../../state/floor.ts';
import { $words } from '../../state/sources.ts';
import { curedFraction, toneOf } from '../bench/tone.ts';
import { SmallSign, StageShape } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';

/** A panel's row; alerts lead to it by its id. */
export function FloorRow({ batch }: { readonly batch: BatchWire }) {
  return (
    <li
      class="floor-row"
      id={`slip-${batch.id}`}
      data-stage={batch.stage}
      tabIndex={$isWall.value ? undefined : -1}
    >
      <RowName batch={batch} />
      <RowState batch={batch} />
      <RowFilm batch={batch} />
    </li>
  );
}

function RowName({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const made = [
    batch.repairOrder === null || $isWall.value ? null : words.slip.order(batch.repairOrder),
    namingOf(batch.cardId).bayName(batch.bayId),
    batch.by,
  ].filter((part) => part !== null);
  return (
    <div class="floor-name">
      {$isWall.value || !$mayWork.value ? (
        <b class="floor-panel">{batch.panel}</b>
      ) : (
        <button
          type="button"
          class="floor-panel"
          aria-describedby={`film-${batch.id}`}
          aria-label={words.floor.open(batch.panel)}
          onClick={() => openDialog({ kind: 'more', batchId: batch.id })}
        >
          {batch.panel}
        </button>
      )}
      <span class="floor-made">{made.join(' · ')}</span>
    </div>
  );
}

function RowState({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const { tone, cured, phase } = useClocked(batch, stateAt, $floorAt);
  return (
    <div class="floor-state" data-tone={tone} style={{ '--cured': cured }}>
      <p class="floor-stage">
        <span class="floor-shape" role="img" aria-label={words.stage[batch.stage]}>
          <StageShape stage={batch.stage} />
        </span>
        <span class="floor-wait">{formatCountdownText(phase, words)}</span>
      </p>
      <RowPromise batch={batch} />
      <RowLikely batch={batch} />
    </div>
  );
}

/** All of a row that time alone changes. */
function stateAt(batch: BatchWire, nowAt: number) {
  return {
    tone: toneOf(batch, nowAt),
    cured: curedFraction(batch, nowAt).toFixed(2),
    phase: phaseOf(batch, nowAt),
  };
}

function RowPromise({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const promisedAt = epochAt(batch.promisedAt);
  if (promisedAt === null) return null;
  const entry = $planById.value.get(batch.id);
  const slack = entry === undefined ? null : formatSlack(entry, words);
  return (
    <p class="floor-promise" data-tone={slack?.tone ?? 'spare'}>
      {slack === null || slack.tone === 'spare' ? null : (
        <SmallSign name={slack.tone === 'stop' ? 'stop' : 'warn'} />
      )}
      <span>
        {formatClock(promisedAt, $place.value)}
        {slack === null ? null : `, ${slack.text}`}
      </span>
    </p>
  );
}

/** Where there is no room for the axis. */
function RowLikely({ batch }: { readonly batch: BatchWire }) {
  const likely = formatLikely(batch, $words.value, $place.value);
  return likely === null ? null : <p class="floor-likely">{likely}</p>;
}

/** What the drawing shows, in words: at a desk as what describes the row's button, which needs no place on the page. */
function RowFilm({ batch }: { readonly batch: BatchWire }) {
  const entry = $planById.value.get(batch.id);
  return (
    <span class="hidden" id={`film-${batch.id}`} hidden={!$isWall.value}>
      {describeFilm(batch, entry, { words: $words.value, place: $place.value })}
    </span>
  );
}
