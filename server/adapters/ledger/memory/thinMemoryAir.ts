// Thinning in memory, by the same rule and in the same order as on disk.
import type { AirRow, Thinned } from '../../../application/ports/airTable.ts';
import type { Instant } from '../../../contract/index.ts';
import type { Newest } from '../sensorSeen.ts';
import { binStart, planThinning, THIN_ROWS_MAX } from '../thinRows.ts';

/** One series as thinning sees it. */
export interface OldSeries {
  /** Sorted by instant; changed in place. */
  readonly rows: AirRow[];
  readonly newest: Pick<Newest, 'heardAt' | 'shownAt'> & { readonly goodAt: Instant | null };
}

/** Makes the step; the series come in order of sensor and quantity. */
export function makeThinning(): (series: Iterable<OldSeries>, beforeAt: Instant) => Thinned {
  const thinnedAts = new Map<AirRow[], Instant>();
  return (series, beforeAt) => {
    for (const { rows, newest } of series) {
      const { heardAt, shownAt, goodAt } = newest;
      const newestAt = Math.min(heardAt, shownAt ?? heardAt, goodAt ?? heardAt);
      const endAt = binStart(Math.min(beforeAt, newestAt) as Instant);
      const fromAt = thinnedAts.get(rows) ?? 0;
      if (fromAt >= endAt) continue;
      const old = rows.filter(({ at }) => at >= fromAt && at < endAt).slice(0, THIN_ROWS_MAX + 1);
      const plan = planThinning(old, endAt);
      const gone = new Set(plan.gone);
      const means = new Map(plan.means.map(({ row, measurement }) => [row, measurement]));
      const kept = rows.flatMap((row): AirRow[] => {
        if (gone.has(row)) return [];
        const measurement = means.get(row);
        return [measurement === undefined ? row : { ...row, measurement, reason: 'mean' }];
      });
      rows.splice(0, rows.length, ...kept);
      thinnedAts.set(rows, plan.thinnedAt);
      return { removedCount: plan.gone.length, isDone: false };
    }
    return { removedCount: 0, isDone: true };
  };
}
