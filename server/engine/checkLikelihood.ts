// What a test by hand says about the time at which a film really was ready.
import { quickNormalProbability } from './quickNormal.ts';

/**
 * A test by hand: the film gummed the paper, or it powdered.
 */
export interface CheckSeen {
  readonly atMin: number;
  readonly outcome: 'gums' | 'powders';
}

/**
 * A tester feels readiness within 5 % of its time [1].
 */
export const TESTER_LOG_SD = 0.05;
/** And is plainly mistaken in 3 of 100. */
const MISTAKE_FRACTION = 0.03;

/**
 * Probability of what was seen if the film is ready at a given time [1].
 * P(powders) = 0.03 + 0.94 Φ(ln(t / T) / 0.05)
 * @param check  when it was tested [min since mixing] and what was seen
 * @param readyLogMin  [ln min] ln T, infinite for never
 * @returns probability [1], 0.03 … 0.97
 * @source design MODEL §5
 */
export function checkLikelihood({ atMin, outcome }: CheckSeen, readyLogMin: number): number {
  const atLog = atMin > 0 ? Math.log(atMin) : -Infinity;
  const ready = readyLogMin === Infinity ? 0 : quickNormalProbability((atLog - readyLogMin) / TESTER_LOG_SD);
  const powders = MISTAKE_FRACTION + (1 - 2 * MISTAKE_FRACTION) * ready;
  return outcome === 'powders' ? powders : 1 - powders;
}
