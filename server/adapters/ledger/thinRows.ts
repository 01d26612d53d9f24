// What becomes of old readings: of each ten minutes one good one stays and carries their mean, and of what was not used the
// last of its kind stays as it was said. One rule for every store.
import type { AirRow } from '../../application/ports/airTable.ts';
import { type Instant, instantFromMs } from '../../contract/index.ts';
import { keptMeasurement } from './checkInput.ts';

type OldRow = Pick<AirRow, 'at' | 'measurement' | 'trust'>;

/** What becomes of some rows of one series. */
export interface ThinPlan<Row extends OldRow> {
  /** Rows that carry the mean of their ten minutes from now on. */
  readonly means: readonly { readonly row: Row; readonly measurement: number }[];
  readonly gone: readonly Row[];
  /** Everything of the series before it is done. */
  readonly thinnedAt: Instant;
}

const BIN_MS = 10 * 60_000;
/** Rows of one step: as many deletions are a matter of a millisecond, beside the one commit. */
export const THIN_ROWS_MAX = 150;

/** The start of the ten minutes in which an instant lies. */
export function binStart(instantAt: Instant): Instant {
  return instantFromMs(Math.floor(instantAt / BIN_MS) * BIN_MS);
}

/**
 * Plans the next step of a series from its rows before an end, in order of instant, one more than THIN_ROWS_MAX where
 * there are so many. Whole bins are done, as far as one is not larger than a step.
 */
export function planThinning<Row extends OldRow>(rows: readonly Row[], endAt: Instant): ThinPlan<Row> {
  const next = rows[THIN_ROWS_MAX];
  const nextBinAt = next === undefined ? endAt : binStart(next.at);
  const whole = rows.filter(({ at }) => at < nextBinAt);
  const taken = whole.length > 0 || next === undefined ? whole : rows.slice(0, THIN_ROWS_MAX);
  const thinnedAt = taken === whole || next === undefined ? nextBinAt : next.at;
  const bins = new Map<Instant, Row[]>();
  for (const row of taken) {
    const startAt = binStart(row.at);
    const bin = bins.get(startAt) ?? [];
    bin.push(row);
    bins.set(startAt, bin);
  }
  const plans = [...bins].map(([startAt, bin]) => planBin(bin, startAt));
  return {
    means: plans.flatMap(({ means }) => means),
    gone: plans.flatMap(({ gone }) => gone),
    thinnedAt,
  };
}

function planBin<Row extends OldRow>(
  rows: readonly Row[],
  startAt: Instant,
): Omit<ThinPlan<Row>, 'thinnedAt'> {
  const good = rows.filter(({ trust }) => trust === 'good');
  const stays = new Set<Row>();
  for (const kind of ['suspect', 'aside'] as const) {
    const last = rows.findLast(({ trust }) => trust === kind);
    if (last !== undefined) stays.add(last);
  }
  const middle = middleOf(good, startAt);
  if (middle !== undefined) stays.add(middle);
  const sum = good.reduce((total, { measurement }) => total + measurement, 0);
  // One alone is no mean: it stays what it is.
  const means =
    middle === undefined || good.length === 1
      ? []
      : [{ row: middle, measurement: keptMeasurement(sum / good.length) }];
  return { means, gone: rows.filter((row) => !stays.has(row)) };
}

/** The row nearest the middle of its ten minutes: its place is its own already, so the mean can take no other's. */
function middleOf<Row extends OldRow>(rows: readonly Row[], startAt: Instant): Row | undefined {
  const awayMs = ({ at }: Row): number => Math.abs(at - startAt - BIN_MS / 2);
  return rows.toSorted((left, right) => awayMs(left) - awayMs(right))[0];
}
