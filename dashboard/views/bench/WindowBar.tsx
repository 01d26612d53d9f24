// The window bar: the feather-edged band over bare metal, with its marks and as many words as have room.
import { placeBandWords, sideAt, type PlacedWord } from '../../charts/bandLabels.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, type WindowBand, type WindowTimes } from '../../charts/windowBand.ts';
import { formatClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

export interface WindowBarProps {
  readonly band: WindowBand;
  readonly times: WindowTimes;
}

/** A clock time below the axis stands clear of the one at the axis' start from here on. */
const CLEAR_OF_START_FRACTION = 0.3;
/** P50 tells its time when P10 and P90 leave it this much room. */
const ROOM_FOR_MIDDLE_FRACTION = 0.34;

/** The bar; to readers it is one image with a sentence. */
export function WindowBar({ band, times }: WindowBarProps) {
  return (
    <div class="window" role="img" aria-label={describe(times)}>
      <div class="window-words" aria-hidden="true">
        {placeBandWords(band).map((placed) => (
          <Word key={placed.word} placed={placed} />
        ))}
      </div>
      <div class="window-plot" aria-hidden="true">
        <svg viewBox={`0 0 ${BAND_WIDTH_PX} ${BAND_HEIGHT_PX}`} preserveAspectRatio="none" focusable="false">
          <path class="window-film" d={band.outline} />
        </svg>
        <span class="window-metal" />
        <span class="window-done" style={{ width: pct(band.nowFraction) }} />
        <Tick kind="p10" fraction={band.p10Fraction} />
        <Tick kind="p50" fraction={band.p50Fraction} />
        <Tick kind="p90" fraction={band.p90Fraction} />
        <Tick kind="kicked" fraction={band.kickedFraction} />
        <Tick kind="build" fraction={band.buildFraction} />
        <Tick kind="edge" fraction={band.edgeFraction} />
        <Tick kind="now" fraction={band.nowFraction} />
      </div>
      <Clocks band={band} times={times} />
    </div>
  );
}

function Word({ placed }: { readonly placed: PlacedWord }) {
  return (
    <span
      class="window-word"
      data-word={placed.word}
      data-side={placed.side}
      style={{ left: pct(placed.fraction) }}
    >
      {$words.value.window[placed.word]}
    </span>
  );
}

function Tick({ kind, fraction }: { readonly kind: string; readonly fraction: number | null }) {
  return fraction === null ? null : <span class="tick" data-kind={kind} style={{ left: pct(fraction) }} />;
}

function Clocks({ band, times }: WindowBarProps) {
  const { p10Fraction, p50Fraction, p90Fraction } = band;
  const isWide = p90Fraction - p10Fraction >= ROOM_FOR_MIDDLE_FRACTION;
  const hasP10 = p10Fraction >= CLEAR_OF_START_FRACTION;
  return (
    <div class="window-clocks" aria-hidden="true">
      <ClockAt fraction={0} instantAt={times.mixedAt} side="after" />
      {hasP10 ? (
        <ClockAt fraction={p10Fraction} instantAt={times.p10At} side={isWide ? 'middle' : 'before'} />
      ) : null}
      {isWide ? <ClockAt fraction={p50Fraction} instantAt={times.p50At} side="middle" /> : null}
      <ClockAt
        fraction={p90Fraction}
        instantAt={times.p90At}
        side={p90Fraction > 0.86 ? 'before' : isWide || !hasP10 ? sideAt(p90Fraction) : 'after'}
      />
    </div>
  );
}

interface ClockAtProps {
  readonly fraction: number;
  readonly instantAt: number;
  readonly side: PlacedWord['side'];
}

function ClockAt({ fraction, instantAt, side }: ClockAtProps) {
  return (
    <span class="window-clock" data-side={side} style={{ left: pct(fraction) }}>
      {formatClock(instantAt, $place.value)}
    </span>
  );
}

function describe(times: WindowTimes): string {
  const { window } = $words.value;
  const clock = (instantAt: number): string => formatClock(instantAt, $place.value);
  const sentence = window.description({
    p10: clock(times.p10At),
    p50: clock(times.p50At),
    p90: clock(times.p90At),
    now: clock(times.nowAt),
    mixed: clock(times.mixedAt),
  });
  return times.buildAt === null || times.edgeAt === null
    ? sentence
    : sentence + window.descriptionParts(clock(times.buildAt), clock(times.edgeAt));
}

function pct(fraction: number): string {
  return `${(fraction * 100).toFixed(2)}%`;
}
