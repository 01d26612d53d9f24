// How often what was promised came true: each first test by hand against the window that stood just before it.
import { wilsonBounds } from './binomialBounds.ts';
import type { FirstCheck } from './facts.ts';
import { brierScore, meanOf } from './scores.ts';

/** Of some first tests: how many powdered, and what that says of the share that does. */
export interface Kept {
  readonly count: number;
  readonly powderedCount: number;
  readonly lowProbability: number;
  readonly highProbability: number;
}

export interface ReliabilityBin extends Kept {
  readonly fromProbability: number;
  readonly toProbability: number;
  /** Null for an empty bin. */
  readonly meanProbability: number | null;
}

export interface Reliability {
  readonly batchCount: number;
  readonly bins: readonly ReliabilityBin[];
  /** First tests after a "test" alert. */
  readonly called: Kept;
  /** Mean squared errors (Brier 1950) over the same first tests; null without any. */
  readonly brier: {
    readonly windowsScore: number | null;
    readonly fixedTimerScore: number | null;
    readonly doublingRuleScore: number | null;
  };
}

const BINS_COUNT = 5;

/** The honest figures of a shop; only first tests before which there was a window count. */
export function judgeReliability(firstChecks: readonly FirstCheck[]): Reliability {
  const promised = firstChecks.filter((check): check is Promised => check.probability !== null);
  // The doubling rule is a timer as well, set to other minutes.
  const ruled = promised.flatMap((check) =>
    check.doublingMin === null ? [] : [{ ...check, timerMin: check.doublingMin }],
  );
  return {
    batchCount: promised.length,
    bins: Array.from({ length: BINS_COUNT }, (_, index) => binOf(promised, index)),
    called: keptOf(promised.filter(({ isCalled }) => isCalled)),
    brier: {
      windowsScore: brierOf(promised, ({ probability }) => probability),
      fixedTimerScore: brierOf(promised, hasRung),
      doublingRuleScore: brierOf(ruled, hasRung),
    },
  };
}

/** What a timer says of a film: 1 once it has rung. */
function hasRung({ atMin, timerMin }: FirstCheck): number {
  return Number(atMin >= timerMin);
}

type Promised = FirstCheck & { readonly probability: number };

/** The last bin holds certainty too. */
function binOf(promised: readonly Promised[], index: number): ReliabilityBin {
  const own = promised.filter(
    ({ probability }) => Math.min(BINS_COUNT - 1, Math.floor(probability * BINS_COUNT)) === index,
  );
  return {
    fromProbability: index / BINS_COUNT,
    toProbability: (index + 1) / BINS_COUNT,
    meanProbability: meanOf(own.map(({ probability }) => probability)),
    ...keptOf(own),
  };
}

function keptOf(checks: readonly FirstCheck[]): Kept {
  const powderedCount = checks.filter(({ outcome }) => outcome === 'powders').length;
  const { low, high } = wilsonBounds({ hitsCount: powderedCount, triesCount: checks.length });
  return { count: checks.length, powderedCount, lowProbability: low, highProbability: high };
}

function brierOf(checks: readonly Promised[], probabilityOf: (check: Promised) => number): number | null {
  return brierScore(
    checks.map((check) => ({ probability: probabilityOf(check), hasHappened: check.outcome === 'powders' })),
  );
}
