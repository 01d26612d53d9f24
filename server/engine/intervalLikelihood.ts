// What one finding says of the law of a time: it was seen to the minute, or only known to lie before, behind or between.
import { invariant } from './invariant.ts';
import { normalDensity, normalProbability } from './normal.ts';

/**
 * One finding, and the law it is held against: ln T is normal. Minutes stand for any unit, the same in all three.
 */
export interface IntervalQuestion {
  /** ln of the last time at which it was not yet so; minus infinity when nobody had looked. */
  readonly lowLogMin: number;
  /** ln of the first time at which it was so; infinite when it never was; equal to the other when seen to the minute. */
  readonly highLogMin: number;
  /** Infinite for a time that never comes. */
  readonly meanLogMin: number;
  readonly logSd: number;
}

const LOG_SQRT_TWO_PI_RATIO = Math.log(2 * Math.PI) / 2;
/** Past this the tail is a continued fraction: there the rational form of normal.ts is right absolutely only. */
const TAIL_FROM_Z = 3;
const TAIL_TERMS_COUNT = 32;
/** Where the width times (1 + |z|) is below this, a series about the middle is better than a difference. */
const NARROW_RATIO = 0.05;

/**
 * Log-likelihood of one finding of a lognormal time [1].
 * exact: ln φ(z) − ln σ − ln t (density in time, not in ln t); left: ln Φ(z_high); right: ln (1 − Φ(z_low));
 * between: ln (Φ(z_high) − Φ(z_low));  z = (ln t − μ) / σ
 * @param question  the finding [ln min], low ≤ high, and the law, σ > 0
 * @returns log-likelihood [1], within 1e-12 (or of itself, if that is more) in both tails; 0 for a finding that says nothing
 * @throws Fault when σ is not positive, the ends are swapped, or the finding lies at never or at zero
 * @source R, package survival, survreg(Surv(…, type = "interval2"), dist = "lognormal"): its definition of logLik
 */
export function intervalLogLikelihood({
  lowLogMin,
  highLogMin,
  meanLogMin,
  logSd,
}: IntervalQuestion): number {
  invariant(logSd > 0, 'a time without spread has no likelihood');
  invariant(lowLogMin <= highLogMin, 'a finding ends after it begins');
  invariant(lowLogMin < Infinity && highLogMin > -Infinity, 'a finding lies within time');
  if (meanLogMin === Infinity) return highLogMin === Infinity ? 0 : -Infinity;
  const lowZ = (lowLogMin - meanLogMin) / logSd;
  const highZ = (highLogMin - meanLogMin) / logSd;
  if (lowLogMin === highLogMin) return logDensity(lowZ) - Math.log(logSd) - lowLogMin;
  const widthZ = (highLogMin - lowLogMin) / logSd;
  // Mirrored so that the nearer end lies below the middle: there small probabilities keep their digits.
  return lowZ + highZ > 0 ? logBetween(-highZ, -lowZ, widthZ) : logBetween(lowZ, highZ, widthZ);
}

/** ln (Φ(high) − Φ(low)) where low + high is not above 0; the width is told because the ends may have lost its digits. */
function logBetween(lowZ: number, highZ: number, widthZ: number): number {
  if (lowZ === -Infinity) return highZ > 0 ? Math.log1p(-normalProbability(-highZ)) : logTail(-highZ);
  const middleZ = (lowZ + highZ) / 2;
  if (widthZ * (1 - middleZ) < NARROW_RATIO) return logDensity(middleZ) + logNarrow(widthZ, middleZ);
  if (highZ > 0) return Math.log1p(-(normalProbability(lowZ) + normalProbability(-highZ)));
  const highMillsLog = logMills(-highZ);
  const logOfRatio = widthZ * middleZ + logMills(-lowZ) - highMillsLog;
  return logDensity(highZ) + highMillsLog + Math.log1p(-Math.exp(logOfRatio));
}

/** ln of a narrow probability over the density in its middle: its width and two terms of Taylor's series. */
function logNarrow(widthZ: number, middleZ: number): number {
  const width2 = widthZ * widthZ;
  const middle2 = middleZ * middleZ;
  const second = (width2 * (middle2 - 1)) / 24;
  const fourth = (width2 * width2 * (middle2 * middle2 - 6 * middle2 + 3)) / 1920;
  return Math.log(widthZ) + Math.log1p(second + fourth);
}

/** ln (1 − Φ(z)) for z ≥ 0. */
function logTail(z: number): number {
  return logDensity(z) + logMills(z);
}

/** ln of the tail over the density, (1 − Φ(z)) / φ(z) for z ≥ 0; Laplace's continued fraction far out. */
function logMills(z: number): number {
  if (z < TAIL_FROM_Z) return Math.log(normalProbability(-z) / normalDensity(z));
  // The terms left out are taken to be all alike.
  let fraction = (z + Math.sqrt(z * z + 4 * (TAIL_TERMS_COUNT + 1))) / 2;
  for (let term = TAIL_TERMS_COUNT; term > 0; term--) fraction = z + term / fraction;
  return -Math.log(fraction);
}

function logDensity(z: number): number {
  return (-z * z) / 2 - LOG_SQRT_TWO_PI_RATIO;
}
