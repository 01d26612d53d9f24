// How finely a film is divided: as coarse as a film of its thickness allows.
import type { CardStatement, FilmJob } from './cardStatement.ts';
import { FILLS } from './constants.ts';
import { metresFromMillimetres } from './units.ts';

/** How far heat creeps in the time in which a film changes, √(κ t). */
const CHANGE_S = 60;
/** A lamp heats one face within seconds. */
const LAMP_CHANGE_S = 12;
const NODE_COUNT_MIN = 3;
const NODE_COUNT_MAX = 9;
/** Nodes needed for each such length. */
const PER_LENGTH_RATIO = 1;

/**
 * Nodes through the depth of a film [1].
 * 3 + d / √(κ t), t a minute without and 12 s with a lamp
 * @param card  the product: its fill decides how fast heat creeps
 * @param job  the film
 * @returns nodes [1], 3 … 9
 * @source measured against films of 16 nodes; DEVELOPERS.md
 */
export function chooseNodeCount(card: CardStatement, job: FilmJob): number {
  const { densityKgPerM3, heatCapacityJPerKgK, conductivityWPerMK } = FILLS[card.fill];
  const changeS =
    job.lampMinWPerM2 === undefined || job.lampMinWPerM2.length === 0 ? CHANGE_S : LAMP_CHANGE_S;
  const lengthM = Math.sqrt((conductivityWPerMK * changeS) / (densityKgPerM3 * heatCapacityJPerKgK));
  const extra = (PER_LENGTH_RATIO * metresFromMillimetres(job.thicknessMm)) / lengthM;
  return Math.min(NODE_COUNT_MAX, NODE_COUNT_MIN + Math.round(extra));
}
