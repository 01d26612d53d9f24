// How finely a film is divided: as coarse as a film of its thickness allows.
import type { CardStatement, FilmJob } from './cardStatement.ts';
import { FILLS } from './constants.ts';
import { metresFromMillimetres } from './units.ts';

/** How far heat creeps in the time in which a film changes, √(κ t). */
const CHANGE_S = 60;
const NODE_COUNT_MIN = 2;
const NODE_COUNT_MAX = 9;
/** Further nodes for each such length. */
const PER_LENGTH_RATIO = 2.3;

/**
 * Nodes through the depth of a film [1].
 * 2 + 2.3 d / √(κ · 60 s): 2 for an edge of 0.5 mm, 3 for 2 mm, 6 for 6 mm
 * @param card  the product: its fill decides how fast heat creeps
 * @param job  the film
 * @returns nodes [1], 2 … 9
 * @source measured against films of 16 nodes with and without lamps: a third of the tolerance; DEVELOPERS.md
 */
export function chooseNodeCount(card: CardStatement, job: FilmJob): number {
  const { densityKgPerM3, heatCapacityJPerKgK, conductivityWPerMK } = FILLS[card.fill];
  const lengthM = Math.sqrt((conductivityWPerMK * CHANGE_S) / (densityKgPerM3 * heatCapacityJPerKgK));
  const further = (PER_LENGTH_RATIO * metresFromMillimetres(job.thicknessMm)) / lengthM;
  return Math.min(NODE_COUNT_MAX, NODE_COUNT_MIN + Math.round(further));
}
