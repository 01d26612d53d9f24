// Generated batches of every kind, for checks of the window against random members and of its own laws.
import { BEAD_UNCERTAINTY, DEFAULT_WINDOW_PRIOR, estimateWindow } from '../../server/engine/index.ts';
import { type Crowd, makeUniform } from './bruteForce.ts';
import { bodyConstants, bodyFiller } from './samples.ts';

export const CROWDS_SEED = 20_261_125;
export const CROWDS_COUNT = 64;

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
  const uniform = makeUniform(CROWDS_SEED + 7919 * index);
  return (low, high) => low + (high - low) * uniform();
}
