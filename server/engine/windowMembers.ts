// The members of a window: a few activation energies, each solved at a few time scales and interpolated between them.
import { recalibrate } from './calibrateCard.ts';
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { BATCH } from './constants.ts';
import { interpolateRising } from './interpolateRising.ts';
import { edgeJob } from './solveBatch.ts';
import { MEMBER_TOLERANCE } from './marchFilm.ts';
import { solveFilm } from './solveFilm.ts';

/**
 * One activation energy: how probable it is, and when both films are cool over the logarithm of the time scale.
 */
export interface Member {
  readonly weight: number;
  /** ln minutes at the borders of the cells, rising; infinite where the film stalls. */
  readonly buildLogMin: Float64Array;
  readonly edgeLogMin: Float64Array;
  /** The later of both. */
  readonly testLogMin: Float64Array;
}

/**
 * How far the scale is followed to either side [1], in standard deviations.
 */
export const SCALE_REACH_SD = 3.5;

const ACTIVATION_MIN_KJ_PER_MOL = 5;

/**
 * What the members are made for.
 */
export interface MemberQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
}

/**
 * What is uncertain: the logarithm of the time scale, and the activation energy.
 */
export interface MemberSpread {
  readonly logScaleMeanRatio: number;
  /** How far that mean moves with one sd of the activation energy. */
  readonly logScaleTiltRatio: number;
  readonly logScaleSd: number;
  readonly activationMeanKJPerMol: number;
  readonly activationSdKJPerMol: number;
  readonly cellCount: number;
}

/**
 * A product at one activation energy.
 */
export interface Variant {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly spread: MemberSpread;
}

/**
 * Solves the members of a window.
 * Activation energies at the three points of Gauss and Hermite, each calibrated so that the card is still met; time
 * scales at four or five even points of ± 3.5 sd, between them a monotone cubic of ln T over ln s
 * @param question  product, constants and job, judged before
 * @param spread  what is uncertain
 * @returns three members, weights summing to 1
 * @source Abramowitz, Stegun 1964, table 25.10 (points and weights for the normal density)
 */
export function solveMembers(question: MemberQuestion, spread: MemberSpread): Member[] {
  return ENERGY_WEIGHTS.map(([z, weight, nodesCount]) => ({
    weight,
    ...solveScales(variantAt(question, spread, z), question.job, nodesCount),
  }));
}

/**
 * Where lessons are told [1]: standard deviations of the activation energy, ascending.
 */
export const LESSON_ENERGIES_Z: readonly number[] = [-2.8, -1.4, 0, 1.4, 2.8];

/**
 * Curves of when a batch is cool over ln time scale, in which lessons are told [ln min].
 * @param question  product, constants and job, judged before
 * @param spread  how far energy and scale reach
 * @returns a curve for each of LESSON_ENERGIES_Z: the later of build and edge [ln min], even in ln time scale
 * @source as solveMembers
 */
export function solveCurves(question: MemberQuestion, spread: MemberSpread): Float64Array[] {
  return LESSON_ENERGIES_Z.map((z) => {
    const variant = variantAt(question, spread, z);
    const { testLogMin } = solveScales(variant, question.job, CURVE_NODES_COUNT);
    return testLogMin;
  });
}

/**
 * A product at one activation energy.
 * @param question  product and constants
 * @param spread  what is uncertain
 * @param z  [1] standard deviations of the activation energy
 * @returns its card and constants, and the spread with its mean moved
 * @source design MODEL §4: calibrated so that the card is still met
 */
export function variantAt(question: MemberQuestion, spread: MemberSpread, z: number): Variant {
  const activationKJPerMol = Math.max(
    ACTIVATION_MIN_KJ_PER_MOL,
    spread.activationMeanKJPerMol + z * spread.activationSdKJPerMol,
  );
  const card = { ...question.card, activationKJPerMol };
  const isCardsOwn = activationKJPerMol === question.card.activationKJPerMol;
  const constants = isCardsOwn ? question.constants : (recalibrate(card) ?? question.constants);
  const logScaleMeanRatio = spread.logScaleMeanRatio + z * spread.logScaleTiltRatio;
  return { card, constants, spread: { ...spread, logScaleMeanRatio } };
}

/**
 * Even time scales [1], as ln.
 * @param spread  where they are centred, and how wide they lie
 * @param count  [1] how many, ≥ 2
 * @returns ascending
 * @source own
 */
export function scaleLogs({ logScaleMeanRatio, logScaleSd }: MemberSpread, count: number): number[] {
  return Array.from(
    { length: count },
    (_, index) => logScaleMeanRatio + SCALE_REACH_SD * ((2 * index) / (count - 1) - 1) * logScaleSd,
  );
}

function solveScales(
  { card, constants, spread }: Variant,
  job: FilmJob,
  nodesCount: number,
): Omit<Member, 'weight'> {
  const offsetLogs: number[] = [];
  const buildLogs: number[] = [];
  const edgeLogs: number[] = [];
  const isAllEdge = job.thicknessMm <= BATCH.edgeThicknessMm;
  const solve = (film: FilmJob): number =>
    logOf(solveFilm(card, constants, film, { tolerance: MEMBER_TOLERANCE }).coolMin);
  for (const offsetLog of scaleLogs(spread, nodesCount)) {
    const scaled = { ...job, timeScale: (job.timeScale ?? 1) * Math.exp(offsetLog) };
    const buildLog = solve(scaled);
    offsetLogs.push(offsetLog);
    buildLogs.push(buildLog);
    edgeLogs.push(isAllEdge ? buildLog : solve(edgeJob(scaled)));
  }
  const grid = { count: spread.cellCount + 1, max: Math.log(BATCH.horizonMin) };
  const buildLogMin = interpolateRising(offsetLogs, buildLogs, grid);
  const edgeLogMin = isAllEdge ? buildLogMin : interpolateRising(offsetLogs, edgeLogs, grid);
  return { buildLogMin, edgeLogMin, testLogMin: laterOf(buildLogMin, edgeLogMin) };
}

/**
 * The later of two instants, cell by cell [ln min].
 * @param buildLogMin  [ln min] instants
 * @param edgeLogMin  [ln min] equally many
 * @returns the later ones
 * @source own
 */
export function laterOf(buildLogMin: Float64Array, edgeLogMin: Float64Array): Float64Array {
  return buildLogMin.map((buildLog, cell) => Math.max(buildLog, edgeLogMin[cell] as number));
}

function logOf(durationMin: number | null): number {
  return durationMin === null ? Infinity : Math.log(durationMin);
}

/** Points and weights for the standard normal density; the rarer a point, the fewer time scales are solved at it. */
const ENERGY_WEIGHTS = [
  [-Math.sqrt(3), 1 / 6, 4],
  [0, 2 / 3, 5],
  [Math.sqrt(3), 1 / 6, 4],
] as const;
const CURVE_NODES_COUNT = 9;
