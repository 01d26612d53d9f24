// The film of one panel on the time axis: bars for its stages, the window's feather edge, checks, ticks and the promise's flag.
import type { BatchWire } from '../../../server/contract/index.ts';
import { filmSpansOf, type FilmSpan, windowOf } from '../../charts/filmSpans.ts';
import { placeOf } from '../../charts/timeAxis.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, makeWindowBand } from '../../charts/windowBand.ts';
import { formatClock } from '../../format/clock.ts';
import { epochAt } from '../../format/phase.ts';
import { $place } from '../../state/computed.ts';
import { $isWall, $planById } from '../../state/floor.ts';
import { $words } from '../../state/sources.ts';
import { StageShape } from '../shapes.tsx';
import { $anchorAt, $axisRem, $flagEndPlace, $flagTurnPlace, $nowPlace, percent } from './axis.ts';
import { CheckMark, PromiseFlag } from './marks.tsx';

/** The film; its row tells readers the same in words. */
export function Film({ batch }: { readonly batch: BatchWire }) {
  const axis = { anchorAt: $anchorAt.value };
  const entry = $planById.value.get(batch.id);
  const spans = filmSpansOf(batch, {
    doneAt: epochAt(entry?.doneP50At),
    workMin: batch.remainingWorkMin,
  });
  const promisedAt = epochAt(batch.promisedAt);
  return (
    <div class="film">
      {spans.map((span) => {
        const bar = { span, anchorAt: axis.anchorAt };
        const key = `${span.kind}${span.fromAt}`;
        return span.untilAt === null ? (
          <GrowingBar key={key} {...bar} />
        ) : (
          <Bar key={key} {...bar} endFraction={placeOf(span.untilAt, axis)} />
        );
      })}
      <WindowFilm batch={batch} anchorAt={axis.anchorAt} />
      {batch.checks.map(({ at, outcome }) => (
        <CheckMark key={at} outcome={outcome} left={percent(placeOf(Date.parse(at), axis))} />
      ))}
      {promisedAt === null ? null : (
        <PromisedAt promisedAt={promisedAt} isMissed={(entry?.danger ?? null) !== null} />
      )}
    </div>
  );
}

function PromisedAt({ promisedAt, isMissed }: { readonly promisedAt: number; readonly isMissed: boolean }) {
  const place = placeOf(promisedAt, { anchorAt: $anchorAt.value });
  // Its cloth, flying back, would stand there without a pole.
  if (place > $flagEndPlace.value) return null;
  return (
    <PromiseFlag
      left={percent(place)}
      fliesBack={place > $flagTurnPlace.value}
      clock={formatClock(promisedAt, $place.value)}
      isMissed={isMissed}
    />
  );
}

interface BarProps {
  readonly span: FilmSpan;
  readonly anchorAt: number;
}

/** The only bars that time itself draws anew. */
function GrowingBar(props: BarProps) {
  return <Bar {...props} endFraction={$nowPlace.value} />;
}

function Bar({ span, anchorAt, endFraction }: BarProps & { readonly endFraction: number }) {
  const { kind, fromAt } = span;
  const startFraction = placeOf(fromAt, { anchorAt });
  const widthFraction = Math.max(0, endFraction - startFraction);
  const style = { left: percent(startFraction), width: percent(widthFraction) };
  const stage = kind === 'wet' || kind === 'kicked' || kind === 'test' || kind === 'sanding' ? kind : null;
  const room = roomOf(widthFraction);
  return (
    <span class="span" data-kind={kind} style={style}>
      {stage === null || room === 'none' ? null : (
        <span class="span-label">
          <StageShape stage={stage} />
          {room === 'word' ? $words.value.stage[stage] : null}
        </span>
      )}
    </span>
  );
}

/** What a bar has room for. Reckoned here: a clip and a container for each of hundreds of bars cost a frame in each scroll. */
function roomOf(widthFraction: number): 'none' | 'shape' | 'word' {
  const widthRem = widthFraction * $axisRem.value;
  const { shapeRem, wordRem } = $isWall.value ? WALL_ROOM : DESK_ROOM;
  return widthRem < shapeRem ? 'none' : widthRem < wordRem ? 'shape' : 'word';
}

/** Least widths for a stage's shape, and for its longest word in either language beside it. */
const DESK_ROOM = { shapeRem: 1.75, wordRem: 5 } as const;
const WALL_ROOM = { shapeRem: 3, wordRem: 9.5 } as const;

function WindowFilm({ batch, anchorAt }: { readonly batch: BatchWire; readonly anchorAt: number }) {
  const times = batch.stage === 'sanding' ? null : windowOf(batch);
  const band = times === null ? null : makeWindowBand(times);
  if (times === null || band === null) return null;
  const left = placeOf(band.fromAt, { anchorAt });
  const width = placeOf(band.untilAt, { anchorAt }) - left;
  const tick = (kind: string, fraction: number | null) =>
    fraction === null ? null : (
      <span class="floor-tick" data-kind={kind} style={{ left: percent(fraction) }} />
    );
  return (
    <span class="floor-window" style={{ left: percent(left), width: percent(width) }}>
      <svg viewBox={`0 0 ${BAND_WIDTH_PX} ${BAND_HEIGHT_PX}`} preserveAspectRatio="none" focusable="false">
        <path d={band.outline} vector-effect="non-scaling-stroke" />
      </svg>
      {tick('p50', band.p50Fraction)}
      {tick('build', band.buildFraction)}
      {tick('edge', band.edgeFraction)}
    </span>
  );
}
