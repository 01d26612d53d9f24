// Conduction through the film with everything else lumped, turned into independent modes that decay exactly.
import { lobattoGrid, NODES_MAX } from './lobattoGrid.ts';
import { diagonalise } from './symmetricEigen.ts';

/**
 * A wall of one material with a lumped mass on its back and a coefficient on either side.
 */
export interface Wall {
  readonly nodeCount: number;
  readonly thicknessM: number;
  readonly densityKgPerM3: number;
  readonly heatCapacityJPerKgK: number;
  readonly conductivityWPerMK: number;
  readonly panelJPerM2K: number;
  readonly frontWPerM2K: number;
  readonly backWPerM2K: number;
}

/**
 * The wall's modes: T = V m, with m' = −λ m + Vᵀ (heat into each node), and m = Vᵀ M T.
 */
export interface HeatOperator {
  nodeCount: number;
  /** Decay rates λ. */
  readonly decaysPerS: Float64Array;
  /** V, node by node: entry node × nodeCount + mode; (m² K / J)^½. */
  readonly modeWeights: Float64Array;
  /** The film's own heat capacity at each node, without the panel. */
  readonly filmJPerM2K: Float64Array;
  /** With the panel, which belongs to the last node. */
  readonly nodeJPerM2K: Float64Array;
}

/**
 * An empty operator, to be filled for one wall after the other.
 * @returns arrays of the largest size
 * @source own
 */
export function makeHeatOperator(): HeatOperator {
  return {
    nodeCount: 0,
    decaysPerS: new Float64Array(NODES_MAX),
    modeWeights: new Float64Array(NODES_MAX * NODES_MAX),
    filmJPerM2K: new Float64Array(NODES_MAX),
    nodeJPerM2K: new Float64Array(NODES_MAX),
  };
}

const matrixPerS = new Float64Array(NODES_MAX * NODES_MAX);
/** M^−½. */
const rootWeights = new Float64Array(NODES_MAX);

/**
 * Fills the operator for a wall.
 * M T' = −K T + f;  M = diag(ρ c d w_i / 2) + C_p at the back,  K = (2 k / d) ∫ l_i' l_j' + h_f, h_b on the faces;
 * K V = M V Λ with Vᵀ M V = 1
 * @param operator  written in place
 * @param wall  the wall, all properties positive; panel, front and back may be 0
 * @source Galerkin's method with Gauss–Lobatto quadrature; derivation in DEVELOPERS.md
 */
export function fillHeatOperator(operator: HeatOperator, wall: Wall): void {
  const n = wall.nodeCount;
  const { nodeWeights, stiffnessRatios } = lobattoGrid(n);
  const { nodeJPerM2K, filmJPerM2K, decaysPerS, modeWeights } = operator;
  operator.nodeCount = n;
  const halfFilm = (wall.densityKgPerM3 * wall.heatCapacityJPerKgK * wall.thicknessM) / 2;
  for (let i = 0; i < n; i++) {
    filmJPerM2K[i] = halfFilm * (nodeWeights[i] as number);
    nodeJPerM2K[i] = filmJPerM2K[i] as number;
  }
  nodeJPerM2K[n - 1] = (nodeJPerM2K[n - 1] as number) + wall.panelJPerM2K;
  for (let i = 0; i < n; i++) rootWeights[i] = 1 / Math.sqrt(nodeJPerM2K[i] as number);
  const conductance = (2 * wall.conductivityWPerMK) / wall.thicknessM;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let stiffness = conductance * (stiffnessRatios[i * n + j] as number);
      if (i === j && i === 0) stiffness += wall.frontWPerM2K;
      if (i === j && i === n - 1) stiffness += wall.backWPerM2K;
      matrixPerS[i * n + j] = stiffness * (rootWeights[i] as number) * (rootWeights[j] as number);
    }
  }
  diagonalise(matrixPerS, modeWeights, n);
  for (let i = 0; i < n; i++) {
    decaysPerS[i] = matrixPerS[i * n + i] as number;
    const scale = rootWeights[i] as number;
    for (let j = 0; j < n; j++) modeWeights[i * n + j] = (modeWeights[i * n + j] as number) * scale;
  }
}
