// The window bar: the feather-edged band over bare metal, with its marks and as many words as have room.
import type { PlacedLabel } from '../../charts/axisLabels.ts';
import { placeBandClocks, placeBandWords } from '../../charts/bandLabels.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, type WindowBand, type WindowTimes } from '../../charts/windowBand.ts';
import { formatClock, formatClockSpan } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

export interface WindowBarProps {
  readonly band: WindowBand;
  readonly times: WindowTimes;
}

/** The bar; to readers it is one image with a sentence. */
export function WindowBar({ band, times }: WindowBarProps) {
  return (
    <div class="window" role="img" aria-label={describe(times)}>
      <div class="window-words" aria-hidden="true">
        {placeBandWords(band, $words.value.window).map((placed) => (
          <Label key={placed.name} kind="word" placed={placed} />
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

/** The label hangs on its mark by the point that leaves all labels their room. */
function Label({ kind, placed }: { readonly kind: 'word' | 'clock'; readonly placed: PlacedLabel<string> }) {
  const style = {
    left: pct(placed.fraction),
    transform: `translateX(-${pct(placed.anchorFraction)})`,
  };
  return (
    <span class={`window-${kind}`} data-name={placed.name} style={style}>
      {placed.text}
    </span>
  );
}

function Tick({ kind, fraction }: { readonly kind: string; readonly fraction: number | null }) {
  return fraction === null ? null : <span class="tick" data-kind={kind} style={{ left: pct(fraction) }} />;
}

function Clocks({ band, times }: WindowBarProps) {
  const clock = (instantAt: number): string => formatClock(instantAt, $place.value);
  const { mixedAt, p10At, p50At, p90At } = times;
  const texts = {
    mixed: clock(mixedAt),
    p10: clock(p10At),
    p50: clock(p50At),
    p90: clock(p90At),
    span: formatClockSpan({ fromAt: p10At, untilAt: p90At }, $place.value),
  };
  return (
    <div class="window-clocks" aria-hidden="true">
      {placeBandClocks(band, texts).map((placed) => (
        <Label key={placed.name} kind="clock" placed={placed} />
      ))}
    </div>
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
