// How good the windows of a replay were where the truth is known, beside rules that need no program.
import { crpsOfWindow, type ForecastWindow, meanOf, pinballLoss } from './domain/scores.ts';
import type { ReplayedBatch, WindowSaid } from './replayScores.ts';

/** One way to foretell, scored over the batches that it could foretell. */
export interface RuleScore {
  readonly name: string;
  readonly count: number;
  /** Mean pinball loss over P10, P50 and P90, and mean CRPS. */
  readonly pinballMin: number | null;
  readonly crpsMin: number | null;
  /** Share of true times inside P10 … P90; null for a rule that has no window. */
  readonly coveredShare: number | null;
}

export interface ReplayScore {
  readonly rules: readonly RuleScore[];
  /** "Test" alerts that came when the film was ready, and the share said at mixing by which it would be. */
  readonly called: { readonly count: number; readonly rightShare: number | null };
  readonly foretold: { readonly count: number; readonly rightShare: number | null };
}

/** The windows of the program, a timer at the tin's minutes, the doubling rule, and the best that hindsight makes of it. */
export function scoreReplay(batches: readonly ReplayedBatch[]): ReplayScore {
  const known = batches.filter(isKnown);
  const pairsOf = (windowOf: (batch: KnownBatch) => ForecastWindow | null): Pair[] =>
    known.flatMap((batch) => {
      const window = windowOf(batch);
      return window === null ? [] : [{ window, trueMin: batch.truthMin }];
    });
  const doubling = pairsOf(doublingOf);
  const called = batches.filter(({ testAlertMin }) => testAlertMin !== null);
  const foretold = batches.filter(({ atMixing }) => (atMixing?.testFromMin ?? null) !== null);
  return {
    rules: [
      scoreOf(
        'window at mixing',
        pairsOf(({ atMixing }) => wholeWindow(atMixing)),
      ),
      scoreOf(
        'window at spreading',
        pairsOf(({ atSpreading }) => wholeWindow(atSpreading)),
      ),
      scoreOf(
        'window at the first test',
        pairsOf(({ atFirstCheck }) => wholeWindow(atFirstCheck)),
      ),
      scoreOf(
        'fixed timer',
        pairsOf(({ cardSandMin }) => pointOf(cardSandMin)),
      ),
      scoreOf('doubling rule', doubling),
      scoreOf('doubling rule, best window in hindsight', bestInHindsight(doubling)),
    ],
    called: rightOf(called, ({ testAlertMin }) => testAlertMin),
    foretold: rightOf(foretold, ({ atMixing }) => atMixing?.testFromMin ?? null),
  };
}

type KnownBatch = ReplayedBatch & { readonly truthMin: number };

interface Pair {
  readonly window: ForecastWindow;
  readonly trueMin: number;
}

/** The doubling rule: twice the minutes for ten degrees less (common practice, no source). */
const DOUBLING_K = 10;
const PROBABILITIES = [
  ['p10Min', 0.1],
  ['p50Min', 0.5],
  ['p90Min', 0.9],
] as const;

function isKnown(batch: ReplayedBatch): batch is KnownBatch {
  return batch.truthMin !== null && batch.truthMin > 0;
}

function wholeWindow(said: WindowSaid | null): ForecastWindow | null {
  if (said === null) return null;
  const { p10Min, p50Min, p90Min } = said;
  if (p10Min === null || p50Min === null || p90Min === null || p10Min <= 0) return null;
  return { p10Min, p50Min, p90Min };
}

function pointOf(atMin: number): ForecastWindow {
  return { p10Min: atMin, p50Min: atMin, p90Min: atMin };
}

function doublingOf({ cardSandMin, cardAtC, airAtMixingC }: KnownBatch): ForecastWindow | null {
  return airAtMixingC === null ? null : pointOf(cardSandMin * 2 ** ((cardAtC - airAtMixingC) / DOUBLING_K));
}

function scoreOf(name: string, pairs: readonly Pair[]): RuleScore {
  const hasWindow = pairs.some(({ window }) => window.p10Min !== window.p90Min);
  return {
    name,
    count: pairs.length,
    pinballMin: meanOf(pairs.map(pinballOf)),
    crpsMin: meanOf(pairs.map(crpsOfWindow)),
    coveredShare: hasWindow
      ? meanOf(
          pairs.map(({ window, trueMin }) => Number(trueMin >= window.p10Min && trueMin <= window.p90Min)),
        )
      : null,
  };
}

function pinballOf({ window, trueMin }: Pair): number {
  const losses = PROBABILITIES.map(([which, probability]) =>
    pinballLoss({ probability, forecastValue: window[which], trueValue: trueMin }),
  );
  return losses.reduce((sum, loss) => sum + loss, 0) / losses.length;
}

/** For each of P10, P50 and P90 the one factor on the rule that would have lost least over all that came. */
function bestInHindsight(pairs: readonly Pair[]): Pair[] {
  const [p10Ratio, p50Ratio, p90Ratio] = PROBABILITIES.map(([which, probability]) =>
    bestRatio((ratio) =>
      pairs.reduce(
        (sum, { window, trueMin }) =>
          sum + pinballLoss({ probability, forecastValue: ratio * window[which], trueValue: trueMin }),
        0,
      ),
    ),
  ) as [number, number, number];
  return pairs.map(({ window, trueMin }) => ({
    trueMin,
    window: {
      p10Min: p10Ratio * window.p10Min,
      p50Min: p50Ratio * window.p50Min,
      p90Min: p90Ratio * window.p90Min,
    },
  }));
}

/** Golden section over the logarithm: the loss is convex in the factor. */
function bestRatio(lossAt: (ratio: number) => number): number {
  let low = -RATIO_REACH_LOG_SCALE;
  let high = RATIO_REACH_LOG_SCALE;
  for (let step = 0; step < SECTIONS_COUNT; step++) {
    const left = high - GOLDEN_RATIO * (high - low);
    const right = low + GOLDEN_RATIO * (high - low);
    if (lossAt(Math.exp(left)) < lossAt(Math.exp(right))) high = right;
    else low = left;
  }
  return Math.exp((low + high) / 2);
}

function rightOf(
  batches: readonly ReplayedBatch[],
  saidMin: (batch: ReplayedBatch) => number | null,
): { count: number; rightShare: number | null } {
  const right = batches.map((batch) =>
    Number(batch.truthMin !== null && (saidMin(batch) as number) >= batch.truthMin),
  );
  return { count: batches.length, rightShare: meanOf(right) };
}

const RATIO_REACH_LOG_SCALE = 2;
const SECTIONS_COUNT = 48;
const GOLDEN_RATIO = (Math.sqrt(5) - 1) / 2;
