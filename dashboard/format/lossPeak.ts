// When the minutes were lost: the hours that stand out of a bay's week.
import type { CostWire } from '../../server/contract/index.ts';

/** The hours in which most was lost. */
export interface LossPeak {
  readonly days: 'workdays' | 'weekend';
  readonly fromHourIndex: number;
  readonly toHourIndex: number;
  readonly addedMin: number;
}

type MapCell = CostWire['map'][number];

/** A peak is as many hours wide as this, and holds this part of the whole or more; else nothing stands out. */
const PEAK_HOURS_COUNT = 2;
const PEAK_LEAST_SHARE = 0.4;
const HOURS_COUNT = 24;

/** Where the minutes gather; null where they are spread. */
export function findPeak(map: readonly MapCell[]): LossPeak | null {
  const wholeMin = sumOf(map);
  const peaks = (['workdays', 'weekend'] as const).flatMap((days) => {
    const own = map.filter(
      ({ weekday }) => (weekday === 'Sat' || weekday === 'Sun') === (days === 'weekend'),
    );
    return Array.from({ length: HOURS_COUNT - PEAK_HOURS_COUNT + 1 }, (_, fromHourIndex): LossPeak => {
      const toHourIndex = fromHourIndex + PEAK_HOURS_COUNT;
      const inside = own.filter(({ hour }) => hourOf(hour) >= fromHourIndex && hourOf(hour) < toHourIndex);
      return { days, fromHourIndex, toHourIndex, addedMin: sumOf(inside) };
    });
  });
  const [most] = peaks.toSorted((a, b) => b.addedMin - a.addedMin);
  const isPeak = most !== undefined && most.addedMin > 0 && most.addedMin >= PEAK_LEAST_SHARE * wholeMin;
  return isPeak ? most : null;
}

/** The hour of a cell's clock. */
export function hourOf(clock: string): number {
  return Number(clock.slice(0, 2));
}

function sumOf(cells: readonly MapCell[]): number {
  return cells.reduce((sum, { addedMin }) => sum + addedMin, 0);
}
