// Added cure minutes by day or week: a bar each, which opens that day or week.
import type { CostWire } from '../../../server/contract/index.ts';
import { chooseAir } from '../../actions/airActs.ts';
import { formatDate, wholeCount } from '../../format/airText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

export interface AddedBarsProps {
  readonly kind: 'day' | 'week';
  readonly cost: CostWire;
  /** The one that is open, such as 2026-01-12; null for none. */
  readonly chosen: string | null;
}

/** The bars, oldest first. */
export function AddedBars({ kind, cost, chosen }: AddedBarsProps) {
  const { airScreen } = $words.value;
  const { locale } = $place.value;
  const bars =
    kind === 'day'
      ? cost.days
      : cost.weeks.map(({ mondayDate, addedMin, batchCount }) => ({
          date: mondayDate,
          addedMin,
          batchCount,
        }));
  const longestMin = Math.max(1, ...bars.map(({ addedMin }) => addedMin));
  return (
    <section class="air-part air-bars" data-kind={kind}>
      <h2>{kind === 'day' ? airScreen.daysTitle : airScreen.weeksTitle}</h2>
      <ul class="added-bars">
        {bars.map(({ date, addedMin, batchCount }) => (
          <li key={date}>
            <button
              type="button"
              class="added-bar"
              aria-current={date === chosen ? 'date' : undefined}
              onClick={() => chooseAir({ kind, date })}
            >
              <span class="added-date">{formatDate({ date, locale })}</span>
              <span class="added-track" aria-hidden="true">
                <span style={{ width: `${((100 * addedMin) / longestMin).toFixed(1)}%` }} />
              </span>
              <span class="added-minutes">{airScreen.minutes(wholeCount(addedMin))}</span>
              <span class="added-count">{airScreen.batches(batchCount)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
