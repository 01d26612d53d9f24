// Eigenvalues of small symmetric matrices by Jacobi's rotations: short, exact to rounding, nothing allocated.
import { invariant } from './invariant.ts';

/** Sweeps over all pairs; six are enough for sixteen rows. */
const SWEEPS_COUNT_MAX = 40;
/** Squared off-diagonal over squared diagonal at which a matrix counts as diagonal. */
const NEGLIGIBLE_RATIO = 1e-30;

/**
 * Turns a symmetric matrix diagonal in place and writes its eigenvectors as columns.
 * A = Q Λ Qᵀ
 * @param matrixValues  [as given] n × n row by row, symmetric; its diagonal holds the eigenvalues afterwards
 * @param vectorValues  [1] n × n, written: column j belongs to eigenvalue j
 * @param count  [1] n, ≥ 1
 * @throws Fault when the sweeps do not converge, which no symmetric finite matrix does
 * @source Golub, Van Loan 2013, Matrix Computations, 4th ed., algorithm 8.5.2 (memory)
 */
export function diagonalise(matrixValues: Float64Array, vectorValues: Float64Array, count: number): void {
  for (let i = 0; i < count * count; i++) vectorValues[i] = i % (count + 1) === 0 ? 1 : 0;
  let isDiagonal = false;
  for (let sweep = 0; sweep < SWEEPS_COUNT_MAX && !isDiagonal; sweep++) {
    let offDiagonal = 0;
    let diagonal = 0;
    for (let p = 0; p < count; p++) {
      diagonal += (matrixValues[p * count + p] as number) ** 2;
      for (let q = p + 1; q < count; q++) offDiagonal += (matrixValues[p * count + q] as number) ** 2;
    }
    isDiagonal = offDiagonal <= NEGLIGIBLE_RATIO * diagonal;
    if (!isDiagonal) sweepPairs(matrixValues, vectorValues, count);
  }
  invariant(isDiagonal, 'a symmetric matrix turns diagonal within the allowed sweeps');
}

function sweepPairs(matrixValues: Float64Array, vectorValues: Float64Array, count: number): void {
  for (let p = 0; p < count - 1; p++) {
    for (let q = p + 1; q < count; q++) {
      const coupling = matrixValues[p * count + q] as number;
      if (coupling === 0) continue;
      const split =
        ((matrixValues[q * count + q] as number) - (matrixValues[p * count + p] as number)) / (2 * coupling);
      const tangent = (split < 0 ? -1 : 1) / (Math.abs(split) + Math.sqrt(split * split + 1));
      const cosine = 1 / Math.sqrt(tangent * tangent + 1);
      const sine = tangent * cosine;
      for (let k = 0; k < count; k++) {
        const left = matrixValues[k * count + p] as number;
        const right = matrixValues[k * count + q] as number;
        matrixValues[k * count + p] = cosine * left - sine * right;
        matrixValues[k * count + q] = sine * left + cosine * right;
      }
      for (let k = 0; k < count; k++) {
        const upper = matrixValues[p * count + k] as number;
        const lower = matrixValues[q * count + k] as number;
        matrixValues[p * count + k] = cosine * upper - sine * lower;
        matrixValues[q * count + k] = sine * upper + cosine * lower;
        const left = vectorValues[k * count + p] as number;
        const right = vectorValues[k * count + q] as number;
        vectorValues[k * count + p] = cosine * left - sine * right;
        vectorValues[k * count + q] = sine * left + cosine * right;
      }
    }
  }
}
