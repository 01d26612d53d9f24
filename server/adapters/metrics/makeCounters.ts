// Counts in memory, from the start of the process: Prometheus knows that counters begin anew.
import { METRICS, type Counters, type Labels, type MetricRow } from '../../application/ports/counters.ts';
import type { Sample } from './renderMetrics.ts';

export interface ReadableCounters extends Counters {
  /** What was counted of a figure; nothing of one that has labels and was never counted. */
  samplesOf(name: string): readonly Sample[];
}

interface Tally {
  readonly labels: readonly (readonly [string, string])[];
  count: number;
}

interface Durations {
  /** One for each bound, and one for what took longer. */
  readonly counts: number[];
  sumS: number;
}

/** From far below an estimate's time to what a person would call hanging [s]. */
const BOUNDS_S = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10];

/** Makes counters for every figure of the table. */
export function makeCounters(): ReadableCounters {
  const rows = new Map<string, MetricRow>(METRICS.map((row) => [row.name, row]));
  const tallies = new Map<string, Map<string, Tally>>();
  const durations = new Map<string, Durations>();
  for (const { name, type, labels } of METRICS) {
    if (type === 'histogram') durations.set(name, { counts: [...BOUNDS_S, 0].fill(0), sumS: 0 });
    // A count of nothing is told as 0, so that a rate can be taken from the start.
    if (type === 'counter') tallies.set(name, new Map(labels.length === 0 ? [['', emptyTally()]] : []));
  }
  return {
    add(name, labels, count = 1) {
      const names = rows.get(name)?.labels ?? [];
      tallyOf(tallies.get(name) as Map<string, Tally>, names, labels).count += count;
    },
    observe(name, durationS) {
      const found = durations.get(name) as Durations;
      const over = BOUNDS_S.findIndex((boundS) => durationS <= boundS);
      const index = over === -1 ? BOUNDS_S.length : over;
      found.counts[index] = (found.counts[index] as number) + 1;
      found.sumS += durationS;
    },
    samplesOf(name) {
      const counted = [...(tallies.get(name)?.values() ?? [])];
      const timed = durations.get(name);
      if (timed !== undefined) return samplesFrom(timed);
      return counted.map(({ labels, count }) => ({ suffix: '', labels, measurement: count }));
    },
  };
}

function emptyTally(): Tally {
  return { labels: [], count: 0 };
}

function tallyOf(tallies: Map<string, Tally>, names: readonly string[], labels: Labels): Tally {
  let key = '';
  for (const name of names) key += `${key === '' ? '' : '\n'}${labels[name] ?? ''}`;
  const known = tallies.get(key);
  if (known !== undefined) return known;
  const tally = { labels: names.map((name) => [name, labels[name] ?? ''] as const), count: 0 };
  tallies.set(key, tally);
  return tally;
}

/** Buckets hold all that took no longer than their bound, as the format wants it. */
function samplesFrom({ counts, sumS }: Durations): Sample[] {
  let count = 0;
  const buckets = counts.map((inBucketCount, index) => {
    count += inBucketCount;
    const bound = BOUNDS_S[index];
    const labels = [['le', bound === undefined ? '+Inf' : String(bound)]] as const;
    return { suffix: '_bucket', labels, measurement: count };
  });
  return [
    ...buckets,
    { suffix: '_sum', labels: [], measurement: sumS },
    { suffix: '_count', labels: [], measurement: count },
  ];
}
