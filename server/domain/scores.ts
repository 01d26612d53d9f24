// How good forecasts were, where the truth came to be known: losses that only honest forecasts make small.
import { normalDensity, normalProbability } from '../engine/index.ts';

/** A forecast of a time as people see it: ln T is normal on either side of P50, each side with its own spread. */
export interface ForecastWindow {
  readonly p10Min: number;
  readonly p50Min: number;
  readonly p90Min: number;
}

export interface ScoredWindow {
  readonly window: ForecastWindow;
  readonly trueMin: number;
}

/** A forecast as values over the standard normal variable of their probability, and where on it the truth lies. */
export interface ScoredQuantiles {
  readonly valueAtZ: (z: number) => number;
  readonly trueValue: number;
  readonly trueZ: number;
}

export interface ScoredQuantile {
  readonly probability: number;
  readonly forecastValue: number;
  readonly trueValue: number;
}

export interface ScoredInterval {
  readonly low: number;
  readonly high: number;
  /** That the truth lies outside. */
  readonly missProbability: number;
  readonly trueValue: number;
}

export interface ScoredEvent {
  readonly probability: number;
  readonly hasHappened: boolean;
}

/** Continuous ranked probability score of a window [min]; for a sure forecast it is the absolute error. */
export function crpsOfWindow({ window, trueMin }: ScoredWindow): number {
  const middleLog = Math.log(window.p50Min);
  const earlySd = (middleLog - Math.log(window.p10Min)) / P90_Z;
  const lateSd = (Math.log(window.p90Min) - middleLog) / P90_Z;
  const beyondLog = Math.log(trueMin) - middleLog;
  return crpsOfQuantiles({
    valueAtZ: (z) => window.p50Min * Math.exp(z * (z < 0 ? earlySd : lateSd)),
    trueValue: trueMin,
    // Without spread on its side the truth lies beyond every quantile there; at P50 itself it lies in the middle.
    trueZ: beyondLog === 0 ? 0 : beyondLog / (beyondLog < 0 ? earlySd : lateSd),
  });
}

/**
 * The same score for any quantile function, in the unit of its values: twice the pinball loss, averaged over all
 * probabilities (Gneiting and Raftery 2007). The loss has a kink at the truth, a window's quantiles have one at P50.
 */
export function crpsOfQuantiles({ valueAtZ, trueValue, trueZ }: ScoredQuantiles): number {
  const kinkZ = Math.max(-REACH_Z, Math.min(REACH_Z, trueZ));
  const lossAtZ = (z: number): number => {
    const loss = pinballLoss({ probability: normalProbability(z), forecastValue: valueAtZ(z), trueValue });
    return loss * normalDensity(z);
  };
  const early = integralOf(lossAtZ, { low: -REACH_Z, high: Math.min(0, kinkZ) });
  const middle = integralOf(lossAtZ, { low: Math.min(0, kinkZ), high: Math.max(0, kinkZ) });
  const late = integralOf(lossAtZ, { low: Math.max(0, kinkZ), high: REACH_Z });
  return 2 * (early + middle + late);
}

/** Pinball loss of one quantile, in the unit of the values. */
export function pinballLoss({ probability, forecastValue, trueValue }: ScoredQuantile): number {
  const beyond = trueValue - forecastValue;
  return beyond >= 0 ? probability * beyond : (probability - 1) * beyond;
}

/** Score of a central interval (Winkler 1972), in the unit of its ends: its width, and a fine for what lies outside. */
export function intervalScore({ low, high, missProbability, trueValue }: ScoredInterval): number {
  const outside = Math.max(0, low - trueValue, trueValue - high);
  return high - low + (2 / missProbability) * outside;
}

/** Mean squared distance of probabilities from what happened (Brier 1950), 0 … 1; null without forecasts. */
export function brierScore(events: readonly ScoredEvent[]): number | null {
  return meanOf(events.map(({ probability, hasHappened }) => (probability - (hasHappened ? 1 : 0)) ** 2));
}

/** Share of truths from P10 to P90, both included; null without forecasts. */
export function coverageOf(scored: readonly ScoredWindow[]): number | null {
  return meanOf(
    scored.map(({ window, trueMin }) => (trueMin >= window.p10Min && trueMin <= window.p90Min ? 1 : 0)),
  );
}

/** Mean of values; null where there are none. */
export function meanOf(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Gauss and Legendre's rule on equal panels. */
function integralOf(
  valueAt: (x: number) => number,
  { low, high }: { readonly low: number; readonly high: number },
): number {
  const half = (high - low) / (2 * PANELS_COUNT);
  let sum = 0;
  for (let panel = 0; panel < PANELS_COUNT; panel++) {
    const middle = low + (2 * panel + 1) * half;
    for (const [x, weight] of LEGENDRE_WEIGHTS) {
      sum += weight * (valueAt(middle - half * x) + valueAt(middle + half * x));
    }
  }
  return sum * half;
}

/** Place of P90 on the normal distribution; P10 mirrors it. */
const P90_Z = 1.281_551_565_544_600_4;
/** Nothing that counts lies beyond, as long as a side's ln T spreads by less than 2. */
const REACH_Z = 9;
const PANELS_COUNT = 6;
/** Points and weights of order 10, each point on both sides (Abramowitz, Stegun 1964, table 25.4; from memory). */
const LEGENDRE_WEIGHTS = [
  [0.148_874_338_981_631_2, 0.295_524_224_714_752_9],
  [0.433_395_394_129_247_2, 0.269_266_719_309_996_4],
  [0.679_409_568_299_024_4, 0.219_086_362_515_982],
  [0.865_063_366_688_984_5, 0.149_451_349_150_580_6],
  [0.973_906_528_517_171_7, 0.066_671_344_308_688_14],
] as const;
