// Why: each cause with its minutes and its share, as bars from the largest on.
import type { CostWire } from '../../../server/contract/index.ts';
import { formatCauseRule, formatWhole, wholeCount } from '../../format/airText.ts';
import { formatPct } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

const MIN_PER_HOUR_MIN = 60;

/** The causes of a span. */
export function CausesPart({ cost }: { readonly cost: CostWire }) {
  const words = $words.value;
  const { airScreen } = words;
  const place = $place.value;
  const { locale } = place;
  const { causes, doorCount, humidMin } = cost;
  return (
    <section class="air-part air-causes">
      <h2>{airScreen.causesTitle}</h2>
      <ul class="cause-list">
        {causes.map(({ code, minutes, share }) => (
          <li key={code} class="cause" data-empty={Math.round(minutes) === 0}>
            <span class="cause-name">{airScreen.causes[code]}</span>
            <span class="cause-minutes">{airScreen.minutes(wholeCount(minutes))}</span>
            <span class="cause-share">{formatPct(100 * share, locale)}</span>
            <span class="cause-bar" aria-hidden="true">
              <span style={{ width: `${(100 * share).toFixed(1)}%` }} />
            </span>
          </li>
        ))}
      </ul>
      <p class="air-hint">{airScreen.signal(doorCount, formatWhole(humidMin / MIN_PER_HOUR_MIN, locale))}</p>
      <details>
        <summary>{airScreen.causesHow}</summary>
        <dl class="cause-rules">
          {causes.map(({ code }) => (
            <div key={code}>
              <dt>{airScreen.causes[code]}</dt>
              <dd>{formatCauseRule(code, { words, place })}</dd>
            </div>
          ))}
        </dl>
      </details>
    </section>
  );
}
