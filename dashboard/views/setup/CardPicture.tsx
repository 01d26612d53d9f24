// The picture of a card's times by temperature; to readers one image with a sentence a temperature.
import { useId } from 'preact/hooks';
import type { CardPreviewWire } from '../../../server/contract/index.ts';
import { CARD_PICTURE, type CardPicture as CardShape, makeCardPicture } from '../../charts/cardPicture.ts';
import { formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

type Rows = CardPreviewWire['rows'];

const LABEL_GAP_PX = 9;
const FOOT_GAP_PX = 20;

/** The film over the temperatures, its minutes along the top. */
export function CardPicture({ rows, lowestC }: { readonly rows: Rows; readonly lowestC: number | null }) {
  const { plausible: words } = $words.value.setup;
  const hatchId = useId();
  const picture = makeCardPicture(rows, lowestC);
  if (picture === null) return null;
  const { leftPx, rightPx, topPx, footPx, widthPx, heightPx } = CARD_PICTURE;
  const { promisedFromPx } = picture;
  return (
    <figure class="card-picture">
      <svg
        viewBox={`0 0 ${widthPx} ${heightPx}`}
        role="img"
        aria-label={words.picture(rows.map(describe))}
        focusable="false"
      >
        <defs>
          <pattern
            id={hatchId}
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <path class="card-hatch" d="M0 0 V6" />
          </pattern>
        </defs>
        <path class="card-curing" d={picture.curingArea} />
        <path class="card-wet" d={picture.wetArea} />
        {promisedFromPx === null ? null : (
          <rect
            x={leftPx}
            y={topPx}
            width={promisedFromPx - leftPx}
            height={footPx - topPx}
            fill={`url(#${hatchId})`}
          />
        )}
        <path class="card-line" d={picture.testLine} />
        <path class="card-metal" d={`M${leftPx - 14} ${footPx + 1} H${rightPx + 14}`} />
        <Marks picture={picture} />
        <Axis rows={rows} />
      </svg>
      <figcaption class="card-legend" aria-hidden="true">
        <span data-film="wet">{words.working}</span>
        <span data-film="curing">{words.test}</span>
        {promisedFromPx === null ? null : <span data-film="hatch">{words.unpromised}</span>}
      </figcaption>
    </figure>
  );
}

/** The minutes along the line, and where there are none. */
function Marks({ picture }: { readonly picture: CardShape }) {
  const { plausible: words } = $words.value.setup;
  return (
    <>
      {picture.marks.map(({ airTemperatureC, testMin, xPx, yPx }) => (
        <g key={airTemperatureC}>
          <circle class="card-dot" cx={xPx} cy={yPx} r="4" />
          <text class="card-minutes" x={xPx} y={yPx - LABEL_GAP_PX} text-anchor="middle">
            {minutes(testMin)}
          </text>
        </g>
      ))}
      {picture.overs.map(({ airTemperatureC, xPx }) => (
        <text key={airTemperatureC} class="card-over" x={xPx} y={CARD_PICTURE.topPx} text-anchor="middle">
          {words.over}
        </text>
      ))}
    </>
  );
}

function Axis({ rows }: { readonly rows: Rows }) {
  const { leftPx, rightPx, footPx } = CARD_PICTURE;
  return (
    <>
      {rows.map(({ airTemperatureC }, index) => (
        <text
          key={airTemperatureC}
          class="card-at"
          x={leftPx + (index * (rightPx - leftPx)) / (rows.length - 1)}
          y={footPx + FOOT_GAP_PX}
          text-anchor="middle"
        >
          {formatWholeTemperature(airTemperatureC, $place.value)}
        </text>
      ))}
    </>
  );
}

function describe({ airTemperatureC, testMin, workingMin }: Rows[number]): string {
  const { setup, unit } = $words.value;
  const text = (valueMin: number | null): string =>
    valueMin === null ? setup.plausible.over : `${minutes(valueMin)} ${unit.min}`;
  return setup.plausible.row({
    temperature: formatWholeTemperature(airTemperatureC, $place.value),
    test: text(testMin),
    working: text(workingMin),
  });
}

function minutes(valueMin: number): string {
  return formatPlain(Math.round(valueMin), $place.value.locale);
}
