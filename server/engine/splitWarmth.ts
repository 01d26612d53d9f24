// Splits what is not measured of a batch into a move along the time scale and two directions that warm or cool it.
import { diagonalise } from './symmetricEigen.ts';

/**
 * What moving one thing by one standard deviation does to a film.
 */
export interface FilmEffect {
  /** Of ln sandable instant. */
  readonly sandLogRatio: number;
  /** All that may decide when a batch is ready, each in what it takes to matter. */
  readonly traitValues: readonly number[];
}

/**
 * The two directions that matter most beside the scale, and what is left for the scale.
 */
export interface WarmthSplit {
  /** How far each thing is moved, orthonormal. */
  readonly firstWeights: readonly number[];
  readonly secondWeights: readonly number[];
  /** In moves of the scale. */
  readonly restRatio: number;
}

/**
 * The directions in which a film changes most at an unmoved sandable instant.
 * Each effect less the move of the scale with the same sandable instant; of these the two strongest eigenvectors of
 * Σ trait traitᵀ over the things. Being orthogonal, both are independent of each other and of the rest
 * @param effects  one for each independent thing, ≥ 2
 * @param scale  what a move of the scale does; none where the film stalls
 * @returns directions, and the standard deviation of what is left, in such moves [1]
 * @source own: principal components, design MODEL §5
 */
export function splitWarmth(effects: readonly FilmEffect[], scale: FilmEffect): WarmthSplit {
  const count = effects.length;
  const perScale = (sandLogRatio: number): number =>
    scale.sandLogRatio === 0 ? 0 : sandLogRatio / scale.sandLogRatio;
  const traits = effects.map(({ traitValues, sandLogRatio }) =>
    traitValues.map((value, index) => value - perScale(sandLogRatio) * (scale.traitValues[index] as number)),
  );
  const matrix = Float64Array.from({ length: count * count }, (_, place) => {
    const column = traits[place % count] as number[];
    return (traits[Math.floor(place / count)] as number[]).reduce(
      (sum, value, index) => sum + value * (column[index] as number),
      0,
    );
  });
  const vectors = new Float64Array(count * count);
  diagonalise(matrix, vectors, count);
  const strength = (thing: number): number => matrix[thing * (count + 1)] as number;
  const order = [...effects.keys()].sort((left, right) => strength(right) - strength(left));
  // An eigenvector's sign is an accident of rounding: the strongest thing is moved upwards, so that equal films get equal windows.
  const directionAt = (place: number): number[] => {
    const vector = effects.map((_, thing) => vectors[thing * count + (order[place] as number)] as number);
    const strongest = vector.reduce(
      (most, part) => (Math.abs(part) > Math.abs(most) + SIGN_TOLERANCE ? part : most),
      0,
    );
    return strongest < 0 ? vector.map((part) => -part) : vector;
  };
  const firstWeights = directionAt(0);
  const secondWeights = directionAt(1);
  let rest = effects.map(({ sandLogRatio }) => perScale(sandLogRatio));
  for (const direction of [firstWeights, secondWeights]) {
    const along = rest.reduce((sum, value, thing) => sum + value * (direction[thing] as number), 0);
    rest = rest.map((value, thing) => value - along * (direction[thing] as number));
  }
  return { firstWeights, secondWeights, restRatio: Math.hypot(...rest) };
}

/** Parts that differ by less are alike, and the first of them decides. */
const SIGN_TOLERANCE = 1e-6;
