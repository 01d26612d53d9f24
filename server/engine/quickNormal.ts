// The standard normal distribution for loops: right to 2e-9 at a fraction of the time.
import { normalDensity, normalProbability } from './normal.ts';

const PER_UNIT_COUNT = 32;
const REACH_Z = 8;
const CELLS_COUNT = 2 * REACH_Z * PER_UNIT_COUNT;

/** Φ at the left end of each cell, and its slopes at both ends for a cell of length 1, one behind the other. */
const cellValues = cellsOf();

/**
 * Probability of a standard normal value below z [1].
 * Φ(z) ≈ v + r (s + r ((3 d − 2 s − e) + r (s + e − 2 d))),  r: place in its cell 0 … 1, d: rise over the cell,
 * s and e: slopes at its ends; error at most h⁴ max|φ'''| / 384 with h = 1/32
 * @param z  [1] any; past ± 8 it is 0 or 1
 * @returns probability [1], within 2e-9 of Φ(z)
 * @source cubic Hermite interpolation on values of normal.ts
 */
export function quickNormalProbability(z: number): number {
  if (z <= -REACH_Z) return 0;
  if (z >= REACH_Z) return 1;
  const place = (z + REACH_Z) * PER_UNIT_COUNT;
  const cell = place | 0;
  const rest = place - cell;
  const first = 2 * cell;
  const start = cellValues[first] as number;
  const slope = cellValues[first + 1] as number;
  const rise = (cellValues[first + 2] as number) - start;
  const endSlope = cellValues[first + 3] as number;
  return (
    start + rest * (slope + rest * (3 * rise - 2 * slope - endSlope + rest * (slope + endSlope - 2 * rise)))
  );
}

function cellsOf(): Float64Array {
  const values = new Float64Array(2 * (CELLS_COUNT + 1));
  for (let index = 0; index <= CELLS_COUNT; index++) {
    const z = index / PER_UNIT_COUNT - REACH_Z;
    values[2 * index] = normalProbability(z);
    values[2 * index + 1] = normalDensity(z) / PER_UNIT_COUNT;
  }
  return values;
}
