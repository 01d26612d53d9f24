// The film of one panel on the time axis: bars for its stages, the window's feather edge, checks, ticks and the promise's flag.
import type { BatchWire } from '../../../server/contract/index.ts';
import { filmSpansOf, type FilmSpan, windowOf } from '../../charts/filmSpans.ts';
import { placeOf } from '../../charts/timeAxis.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, makeWindowBand } from '../../charts/windowBand.ts';
import { describeFilm } from '../../format/floorText.ts';
import { formatClock } from '../../format/clock.ts';
import { epochAt } from '../../format/phase.ts';
import { $place } from '../../state/computed.ts';
import { $planById } from '../../state/floor.ts';
import { $words } from '../../state/sources.ts';
import { StageShape } from '../shapes.tsx';
import { $anchorAt, percent } from './axis.ts';
import { CheckMark, PromiseFlag } from './marks.tsx';

/** The track; readers get its sentence. */
export function FilmTrack({ batch }: { readonly batch: BatchWire }) {
  const axis = { anchorAt: $anchorAt.value };
  const entry = $planById.value.get(batch.id);
  const spans = filmSpansOf(batch, {
    doneAt: epochAt(entry?.doneP50At),
    workMin: batch.remainingWorkMin,
  });
  const promisedAt = epochAt(batch.promisedAt);
  return (
    <div class="floor-track">
      <span class="hidden">{describeFilm(batch, entry, { words: $words.value, place: $place.value })}</span>
      <div class="floor-film" aria-hidden="true">
        {spans.map((span) => (
          <SpanBar key={`${span.kind}${span.fromAt}`} span={span} anchorAt={axis.anchorAt} />
        ))}
        <WindowFilm batch={batch} anchorAt={axis.anchorAt} />
        {batch.checks.map(({ at, outcome }) => (
          <CheckMark key={at} outcome={outcome} left={percent(placeOf(Date.parse(at), axis))} />
        ))}
        {promisedAt === null ? null : (
          <PromiseFlag
            left={percent(placeOf(promisedAt, axis))}
            clock={formatClock(promisedAt, $place.value)}
            isMissed={(entry?.danger ?? null) !== null}
          />
        )}
      </div>
    </div>
  );
}

function SpanBar({ span, anchorAt }: { readonly span: FilmSpan; readonly anchorAt: number }) {
  const { kind, fromAt, untilAt } = span;
  const left = percent(placeOf(fromAt, { anchorAt }));
  const right = untilAt === null ? 'var(--now)' : percent(placeOf(untilAt, { anchorAt }));
  const stage = kind === 'wet' || kind === 'kicked' || kind === 'test' || kind === 'sanding' ? kind : null;
  return (
    <span class="span" data-kind={kind} style={{ left, width: `calc(${right} - ${left})` }}>
      {stage === null ? null : (
        <span class="span-label">
          <StageShape stage={stage} />
          <span class="span-word">{$words.value.stage[stage]}</span>
        </span>
      )}
    </span>
  );
}

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
