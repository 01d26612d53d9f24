// The figures of a load run, and how they are printed: what a person asks first stands first.

export interface LoadOptions {
  readonly durationS: number;
  readonly batchCount: number;
  readonly screenCount: number;
  readonly readingsPerS: number;
  /** Real browser pages beside the screens. */
  readonly pageCount: number;
}

/** Of some durations; count is how many there were. */
export interface Summary {
  readonly count: number;
  readonly p50Ms: number;
  readonly p99Ms: number;
  readonly maxMs: number;
}

export interface BareFigures {
  readonly sentCount: number;
  readonly storedCount: number;
  readonly ackMs: Summary;
  readonly airMs: Summary;
  readonly cpuPct: number;
}

export interface ShopFigures extends BareFigures {
  /** Acknowledged, and not in the air table exactly once. */
  readonly lostCount: number;
  readonly failedCount: number;
  readonly openBatchCount: number;
  readonly httpMs: Summary;
  readonly changeMs: Summary;
  readonly resyncCount: number;
  readonly gapCount: number;
  readonly loopMs: Summary;
  readonly estimatesPerS: number;
  readonly memory: MemoryTrend;
}

export interface MemoryTrend {
  /** Resident, in MiB, at even distances over the run. */
  readonly residentCounts: readonly number[];
  /** How fast the second half grew. */
  readonly kibPerMin: number;
}

/** Summarises durations. */
export function summaryOf(durationsMs: readonly number[]): Summary {
  const sorted = durationsMs.toSorted((a, b) => a - b);
  const at = (part: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
  return { count: sorted.length, p50Ms: at(0.5), p99Ms: at(0.99), maxMs: at(1) };
}

/** Lines for people: the shop beside the bare broker. */
export function formatLoad(
  { durationS, batchCount, screenCount, readingsPerS, pageCount }: LoadOptions,
  { shop, bare }: { shop: ShopFigures; bare: BareFigures },
): string {
  const rows = [
    ['', 'Sandby', 'bare broker + writer'],
    [
      'readings sent / stored',
      `${shop.sentCount} / ${shop.storedCount}`,
      `${bare.sentCount} / ${bare.storedCount}`,
    ],
    ['lost, failed', `${shop.lostCount}, ${shop.failedCount}`, ''],
    ['PUBACK', text(shop.ackMs), text(bare.ackMs)],
    ['HTTP 200', text(shop.httpMs), ''],
    ['reading at the screens', text(shop.airMs), text(bare.airMs)],
    ['decision at the screens', text(shop.changeMs), ''],
    ['event loop late', text(shop.loopMs), ''],
    ['processor', `${shop.cpuPct.toFixed(0)} %`, `${bare.cpuPct.toFixed(0)} %`],
    ['estimates', `${shop.estimatesPerS.toFixed(0)} /s`, ''],
    ['gaps, resyncs', `${shop.gapCount}, ${shop.resyncCount}`, ''],
    ['resident memory', `${shop.memory.residentCounts.map((one) => one.toFixed(0)).join(' ')} MiB`, ''],
    ['  second half', `${shop.memory.kibPerMin.toFixed(0)} KiB/min`, ''],
  ];
  const head =
    `${durationS} s, ${readingsPerS} readings/s, ${shop.openBatchCount} of ${batchCount} batches open, ` +
    `${screenCount} screens, ${pageCount} pages; median / p99 / longest in ms`;
  return [
    head,
    ...rows.map(([name = '', left = '', right = '']) => `${name.padEnd(26)}${left.padEnd(44)}${right}`),
  ]
    .map((line) => line.trimEnd())
    .join('\n');
}

function text({ p50Ms, p99Ms, maxMs, count }: Summary): string {
  return `${p50Ms.toFixed(1)} / ${p99Ms.toFixed(1)} / ${maxMs.toFixed(0)} (${count})`;
}
