// The window's quantiles against ten thousand random members, over generated batches (design MODEL §5: within 2 %).
import { describe, expect, it } from 'vitest';
import { BEAD_UNCERTAINTY, DEFAULT_WINDOW_PRIOR, estimateWindow } from '../../server/engine/index.ts';
import { type Crowd, crowdQuantiles, makeUniform } from './bruteForce.ts';
import { bodyConstants, bodyFiller } from './samples.ts';

const SEED = 20_261_125;
const CASES_COUNT = 64;
const MEMBERS_COUNT = 10_000;
const PROBABILITIES = [0.1, 0.5, 0.8, 0.9] as const;
const cases = Array.from({ length: CASES_COUNT }, (_, index) => index);
const worst = { missRatio: 0, name: '' };

describe('a window against random members', () => {
  it.each(cases)('agrees within two per cent, batch %i', (index) => {
    const crowd = crowdOf(index);
    const window = estimateWindow({
      card: bodyFiller,
      constants: bodyConstants,
      job: crowd.job,
      prior: crowd.prior,
      checks: crowd.checks,
    });
    const theirs = crowdQuantiles(crowd, { count: MEMBERS_COUNT, seed: SEED + index }, PROBABILITIES);
    for (const [place, probability] of PROBABILITIES.entries()) {
      const ours = window.quantileMin(probability);
      const other = theirs[place] ?? null;
      if (ours === null || other === null) {
        // Both say "never", or one of them just about reaches the end of the twelve hours.
        expect(Math.max(ours ?? 720, other ?? 720)).toBeGreaterThan(650);
        continue;
      }
      const missRatio = Math.abs(ours / other - 1);
      if (missRatio > worst.missRatio) Object.assign(worst, { missRatio, name: `${index} P${probability}` });
      expect(missRatio, `P${probability}: ${ours.toFixed(2)} against ${other.toFixed(2)} min`).toBeLessThan(
        0.02,
      );
    }
    if (index === CASES_COUNT - 1) {
      console.log(`${CASES_COUNT} windows, worst ${(worst.missRatio * 100).toFixed(2)} % (${worst.name})`);
    }
  });
});

/** A batch of its own for each index: air, film, car, lamp, belief and checks by chance. */
export function crowdOf(index: number): Crowd {
  const draw = drawsOf(index);
  const startC = draw(6, 30);
  const lampFrom = draw(5, 20);
  const hasLamp = index % 8 === 3;
  const isCold = index % 4 === 1;
  const isLearned = index % 3 === 2;
  const checkMin = draw(0.75, 1.25);
  const job = {
    substrate: (['steel', 'aluminium', 'plastic'] as const)[index % 3] ?? 'steel',
    thicknessMm: draw(0.4, 4.5),
    hardenerPct: draw(1.5, 3),
    airC: [
      [0, startC],
      [60, startC + draw(-4, 5)],
    ] as const,
    humidityPct: [[0, draw(30, 90)]] as const,
    ...(isCold ? { cavityStartC: startC - draw(2, 9) } : {}),
    ...(hasLamp ? { lampMinWPerM2: [[lampFrom, lampFrom + draw(5, 15), draw(300, 900)]] as const } : {}),
    underlayMm: index % 5 === 0 ? 2 : 0,
  };
  const hardenerLogSd = index % 2 === 0 ? 0.1 : 0.03;
  const prior = {
    ...DEFAULT_WINDOW_PRIOR,
    ...(isLearned
      ? {
          logTimeScale: draw(-0.2, 0.25),
          logTimeScaleSd: draw(0.02, 0.08),
          activationMeanKJPerMol: draw(40, 54),
          activationSdKJPerMol: draw(2, 7),
          logTimeScaleTiltRatio: draw(-0.04, 0.01),
          logScatterSd: draw(0.09, 0.16),
          logScatterLogSd: draw(0.1, 0.35),
        }
      : {}),
    film: { ...BEAD_UNCERTAINTY, hardenerLogSd },
  };
  const { p50Min } = estimateWindow({ card: bodyFiller, constants: bodyConstants, job, prior });
  const atMin = checkMin * (p50Min ?? 60);
  const outcome = checkMin < 1 ? ('gums' as const) : ('powders' as const);
  const contradicting = { atMin: atMin * 0.8, outcome: 'powders' as const };
  const checks = index % 4 === 2 ? [{ atMin, outcome }, ...(index % 16 === 2 ? [contradicting] : [])] : [];
  return { job, prior, checks };
}

function drawsOf(index: number): (low: number, high: number) => number {
  const uniform = makeUniform(SEED + 7919 * index);
  return (low, high) => low + (high - low) * uniform();
}
