// Gauss–Lobatto points of one element: nodes on both faces, and as few as the wanted accuracy allows.
import { invariant } from './invariant.ts';

/**
 * One spectral element on [−1, 1]: points, quadrature weights and the stiffness of their polynomials.
 */
export interface LobattoGrid {
  readonly nodeCount: number;
  readonly nodeOffsets: Float64Array;
  readonly nodeWeights: Float64Array;
  /** ∫ l_i' l_j' dx, row by row. */
  readonly stiffnessRatios: Float64Array;
}

/**
 * The most nodes a film may have [1].
 */
export const NODES_MAX = 16;
const NODES_MIN = 2;
const NEWTON_STEPS_MAX = 60;
const NEWTON_TOLERANCE = 1e-15;

const grids: readonly LobattoGrid[] = Array.from({ length: NODES_MAX - NODES_MIN + 1 }, (_, index) =>
  makeGrid(index + NODES_MIN),
);

/**
 * The grid of so many points.
 * (1 − x²) P'_N(x) = 0, w_i = 2 / (N (N+1) P_N(x_i)²), N = nodes − 1
 * @param nodeCount  [1] 2 … 16
 * @returns the grid, shared and read-only
 * @throws Fault when there is no grid of that size
 * @source Abramowitz, Stegun 1964, 25.4.32
 */
export function lobattoGrid(nodeCount: number): LobattoGrid {
  const grid = grids[nodeCount - NODES_MIN];
  invariant(grid !== undefined, `a film has ${NODES_MIN} to ${NODES_MAX} nodes, not ${nodeCount}`);
  return grid;
}

function makeGrid(nodeCount: number): LobattoGrid {
  const degree = nodeCount - 1;
  const nodeOffsets = new Float64Array(nodeCount);
  const nodeWeights = new Float64Array(nodeCount);
  const legendreRatios = new Float64Array(nodeCount);
  for (let i = 0; i < nodeCount; i++) {
    const x = lobattoPoint(degree, -Math.cos((Math.PI * i) / degree));
    const legendre = legendreValues(degree, x).value;
    nodeOffsets[i] = x;
    legendreRatios[i] = legendre;
    nodeWeights[i] = 2 / (degree * nodeCount * legendre * legendre);
  }
  return {
    nodeCount,
    nodeOffsets,
    nodeWeights,
    stiffnessRatios: stiffnessOf(nodeOffsets, nodeWeights, legendreRatios),
  };
}

/** Newton on (1 − x²) P'_N = N (P_{N−1} − x P_N), whose derivative is −N (N+1) P_N. */
function lobattoPoint(degreeCount: number, guessOffset: number): number {
  let x = guessOffset;
  for (let step = 0; step < NEWTON_STEPS_MAX; step++) {
    const { value, y } = legendreValues(degreeCount, x);
    const change = (y - x * value) / ((degreeCount + 1) * value);
    x += change;
    if (Math.abs(change) < NEWTON_TOLERANCE) break;
  }
  return x;
}

/** P_N and P_{N−1} at x by the three-term recursion. */
function legendreValues(degreeCount: number, x: number): { value: number; y: number } {
  let y = 1;
  let value = x;
  for (let k = 1; k < degreeCount; k++) {
    const next = ((2 * k + 1) * x * value - k * y) / (k + 1);
    y = value;
    value = next;
  }
  return { value, y };
}

function stiffnessOf(
  nodeOffsets: Float64Array,
  nodeWeights: Float64Array,
  legendreRatios: Float64Array,
): Float64Array {
  const n = nodeOffsets.length;
  const slopes = new Float64Array(n * n);
  const degree = n - 1;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      slopes[i * n + j] =
        i === j
          ? 0
          : at(legendreRatios, i) / (at(legendreRatios, j) * (at(nodeOffsets, i) - at(nodeOffsets, j)));
    }
  }
  slopes[0] = (-degree * n) / 4;
  slopes[n * n - 1] = (degree * n) / 4;
  const stiffness = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let q = 0; q < n; q++) sum += at(nodeWeights, q) * at(slopes, q * n + i) * at(slopes, q * n + j);
      stiffness[i * n + j] = sum;
    }
  }
  return stiffness;
}

function at(values: Float64Array, index: number): number {
  return values[index] as number;
}
