// Ten thousand random members for one window: the brute force that the window's few members are held against.
import { recalibrate } from '../../server/engine/calibrateCard.ts';
import { checkLikelihood, type CheckSeen } from '../../server/engine/checkLikelihood.ts';
import { KINETICS } from '../../server/engine/constants.ts';
import {
  type CardConstants,
  type CardStatement,
  type FilmJob,
  type FilmUncertainty,
  solveBatch,
  type WindowPrior,
} from '../../server/engine/index.ts';
import { bodyConstants, bodyFiller } from './samples.ts';

export interface Crowd {
  readonly job: FilmJob;
  readonly prior: WindowPrior & { readonly film: FilmUncertainty };
  readonly checks: readonly CheckSeen[];
}

/** How many activation energies are calibrated; members take the nearest. */
const ENERGIES_COUNT = 240;
const ENERGY_REACH_SD = 4;

/** Quantiles [min] of the test time over random members; each draws everything that is uncertain anew. */
export function crowdQuantiles(
  { job, prior, checks }: Crowd,
  { count, seed }: { count: number; seed: number },
  probabilities: readonly number[],
): (number | null)[] {
  const normal = makeNormal(seed);
  const energies = calibrateEnergies(prior);
  const members = Array.from({ length: count }, () => {
    const energyZ = normal();
    const energy = energies[indexOfEnergy(energyZ)] as { card: CardStatement; constants: CardConstants };
    const { film } = prior;
    const scatterSd = prior.logScatterSd * Math.exp((prior.logScatterLogSd ?? 0) * normal());
    const logScale =
      prior.logTimeScale +
      (prior.logTimeScaleTiltRatio ?? 0) * energyZ +
      prior.logTimeScaleSd * normal() +
      scatterSd * normal();
    const heatJPerKg = Math.max(0, KINETICS.heatJPerKg + film.heatSdJPerKg * normal());
    const offsetK = film.bayOffsetSdK * normal();
    const fluxRatio = Math.exp(film.lampLogSd * normal());
    const member: FilmJob = {
      ...job,
      timeScale: Math.exp(logScale),
      hardenerPct: job.hardenerPct * Math.exp(film.hardenerLogSd * normal()),
      thicknessMm: job.thicknessMm * Math.exp(film.thicknessLogSd * normal()),
      airC: job.airC.map(([atMin, value]) => [atMin, value + offsetK]),
      ...(job.cavityStartC === undefined ? {} : { cavityStartC: job.cavityStartC + offsetK }),
      ...(job.panelStartC === undefined ? {} : { panelStartC: job.panelStartC + offsetK }),
      lampMinWPerM2: (job.lampMinWPerM2 ?? []).map(([from, to, flux]) => [from, to, flux * fluxRatio]),
    };
    const card = { ...energy.card, humidityEffectPer10Pct: film.humidityEffectSd * normal() };
    const testMin = solveBatch(card, energy.constants, member, { heatJPerKg }).testMin ?? Infinity;
    const weight = checks.reduce((all, check) => all * checkLikelihood(check, Math.log(testMin)), 1);
    return { testMin, weight };
  }).sort((left, right) => left.testMin - right.testMin);
  const all = members.reduce((sum, { weight }) => sum + weight, 0);
  return probabilities.map((probability) => {
    let passed = 0;
    const found = members.find(({ weight }) => (passed += weight) >= probability * all)?.testMin ?? Infinity;
    return found === Infinity ? null : found;
  });
}

function calibrateEnergies(prior: WindowPrior): { card: CardStatement; constants: CardConstants }[] {
  const meanKJPerMol = prior.activationMeanKJPerMol ?? bodyFiller.activationKJPerMol;
  return Array.from({ length: ENERGIES_COUNT }, (_, index) => {
    const z = ENERGY_REACH_SD * ((2 * index) / (ENERGIES_COUNT - 1) - 1);
    const card = {
      ...bodyFiller,
      activationKJPerMol: Math.max(5, meanKJPerMol + z * prior.activationSdKJPerMol),
    };
    return { card, constants: recalibrate(card) ?? bodyConstants };
  });
}

function indexOfEnergy(z: number): number {
  const place = Math.round(((z / ENERGY_REACH_SD + 1) / 2) * (ENERGIES_COUNT - 1));
  return Math.min(Math.max(place, 0), ENERGIES_COUNT - 1);
}

/** Box and Muller's cosine over Marsaglia's xorshift: members take many draws each, which a plain congruence ties together. */
function makeNormal(seed: number): () => number {
  const uniform = makeUniform(seed);
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Even draws inside 0 … 1 (Marsaglia 2003, Xorshift RNGs, xor128). */
export function makeUniform(seed: number): () => number {
  const words = new Uint32Array([123_456_789 ^ seed, 362_436_069, 521_288_629, 88_675_123]);
  const next = (): number => {
    const t = (words[0] as number) ^ ((words[0] as number) << 11);
    words.copyWithin(0, 1);
    const last = words[2] as number;
    words[3] = last ^ (last >>> 19) ^ t ^ (t >>> 8);
    return (words[3] + 0.5) / 2 ** 32;
  };
  for (let skipped = 0; skipped < 40; skipped++) next();
  return next;
}
