// The reliability picture: on the dashed line every promise was kept; each film is as long as its doubt.
import type { ReliabilityWire } from '../../../server/contract/index.ts';
import { makeReliabilityMarks, PICTURE, plotXPx, plotYPx } from '../../charts/reliabilityPicture.ts';
import { formatPct } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

const PROBABILITY_TICKS = [0, 0.2, 0.4, 0.6, 0.8, 1];

/** The picture; to readers one image with a sentence a bin. */
export function ReliabilityPicture({ bins }: { readonly bins: ReliabilityWire['bins'] }) {
  const { estimates } = $words.value.records;
  const marks = makeReliabilityMarks(bins);
  return (
    <svg
      class="reliability"
      viewBox={`0 0 ${PICTURE.widthPx} ${PICTURE.heightPx}`}
      role="img"
      aria-label={describe(bins)}
      focusable="false"
    >
      <Axes />
      <path class="reliability-line" d={`M${plotXPx(0)} ${plotYPx(0)} L${plotXPx(1)} ${plotYPx(1)}`} />
      <text class="reliability-hint" x={plotXPx(0.03)} y={plotYPx(0.03) - 14} transform={tilt(0.03)}>
        {estimates.perfect}
      </text>
      {marks.map(({ outline, xPx, sharePx, labelPx, count, powderedCount }) => (
        <g key={xPx}>
          <path class="reliability-film" d={outline} />
          <circle class="reliability-dot" cx={xPx} cy={sharePx} r="5" />
          <text class="reliability-count" x={xPx} y={labelPx} text-anchor="middle">
            {estimates.ofCount(powderedCount, count)}
          </text>
        </g>
      ))}
    </svg>
  );
}

function Axes() {
  const { estimates } = $words.value.records;
  const { leftPx, sidePx, footPx, topPx } = PICTURE;
  return (
    <>
      {PROBABILITY_TICKS.map((probability) => (
        <g key={probability}>
          <path class="reliability-grid" d={`M${leftPx} ${plotYPx(probability)} h${sidePx}`} />
          <text x={leftPx - 18} y={plotYPx(probability) + 4} text-anchor="end">
            {pct(probability)}
          </text>
          <text x={plotXPx(probability)} y={footPx + 18} text-anchor="middle">
            {pct(probability)}
          </text>
        </g>
      ))}
      <path class="reliability-metal" d={`M${leftPx} ${footPx} h${sidePx}`} />
      <text class="reliability-name" x={leftPx + sidePx / 2} y={footPx + 40} text-anchor="middle">
        {estimates.stated}
      </text>
      <text class="reliability-name" x={leftPx + 6} y={topPx + 16}>
        {estimates.happened}
      </text>
    </>
  );
}

function tilt(probability: number): string {
  return `rotate(-45 ${plotXPx(probability)} ${plotYPx(probability)})`;
}

function describe(bins: ReliabilityWire['bins']): string {
  const { estimates } = $words.value.records;
  const lines = bins
    .filter(({ count }) => count > 0)
    .map((bin) =>
      estimates.pictureBin({
        from: pct(bin.fromProbability),
        to: pct(bin.toProbability),
        powderedCount: bin.powderedCount,
        count: bin.count,
        low: pct(bin.lowProbability),
        high: pct(bin.highProbability),
      }),
    );
  return estimates.picture(lines);
}

function pct(probability: number): string {
  return formatPct(100 * probability, $place.value.locale);
}
