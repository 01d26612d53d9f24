// The week as a map: how slow each hour of each weekday was, and a dot where batches lost minutes. A real table.
import { WEEKDAYS } from '../../../server/contract/costTerms.ts';
import type { CostWire } from '../../../server/contract/index.ts';
import { formatRatio, formatWeekday, formatWhole } from '../../format/airText.ts';
import { hourOf } from '../../format/lossPeak.ts';
import { $place } from '../../state/computed.ts';
import { $live, $words } from '../../state/sources.ts';

type Cell = CostWire['map'][number];

/** The darkest tone stands for this slowdown and more. */
const DARKEST = { slowdown: 2.5 };
/** Minutes that are worth a dot. */
const DOT_MIN = 1;
const LABEL_EVERY_COUNT = 3;

/** The map of the weeks. */
export function SlowMap({ cost }: { readonly cost: CostWire }) {
  const { airScreen } = $words.value;
  const { locale } = $place.value;
  const card = $live.value?.cards.find(({ id }) => id === cost.cardId)?.name ?? cost.cardId;
  const hours = cost.map.filter(({ weekday }) => weekday === 'Mon').map(({ hour }) => hour);
  return (
    <section class="air-part air-map">
      <h2 id="air-map-title">{airScreen.mapTitle}</h2>
      <p class="air-hint">{airScreen.mapSentence(card)}</p>
      <table class="slow-map" aria-labelledby="air-map-title">
        <thead>
          <tr>
            <th scope="col">
              <span class="hidden">{airScreen.mapWeekday}</span>
            </th>
            {hours.map((hour) => (
              <th key={hour} scope="col">
                {hourOf(hour) % LABEL_EVERY_COUNT === 0 ? (
                  hourOf(hour)
                ) : (
                  <span class="hidden">{hourOf(hour)}</span>
                )}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {WEEKDAYS.map((weekday) => (
            <tr key={weekday}>
              <th scope="row">{formatWeekday(weekday, locale)}</th>
              {cost.map
                .filter((cell) => cell.weekday === weekday)
                .map((cell) => (
                  <MapCell key={cell.hour} cell={cell} />
                ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="map-scale" aria-hidden="true">
        <span>{airScreen.mapScale}</span>
        <span class="map-scale-bar" />
        <span>{airScreen.mapScaleEnd(airScreen.times(formatRatio(DARKEST.slowdown, locale)))}</span>
        <span class="map-scale-none" />
        <span>{airScreen.mapNone}</span>
      </p>
    </section>
  );
}

function MapCell({ cell: { slowdown, addedMin } }: { readonly cell: Cell }) {
  const { airScreen } = $words.value;
  const { locale } = $place.value;
  const lost = addedMin >= DOT_MIN ? formatWhole(addedMin, locale) : null;
  if (slowdown === null) {
    return (
      <td data-none="true">
        <span class="hidden">{airScreen.mapNone}</span>
      </td>
    );
  }
  const fraction = Math.min(1, Math.max(0, (slowdown - 1) / (DARKEST.slowdown - 1)));
  const text = airScreen.mapCell(airScreen.times(formatRatio(slowdown, locale)), lost);
  return (
    <td title={text} data-lost={lost !== null} style={{ '--slow': `${(100 * fraction).toFixed(0)}%` }}>
      <span class="hidden">{text}</span>
    </td>
  );
}
