// Conduction over a step, mode by mode: exact for air that is straight in time and heat of cure that is a polynomial.
import { SURFACES } from './constants.ts';
import type { FilmState } from './filmState.ts';
import { fillPhi, fillPhiThirds } from './phi.ts';

const CAVITY_PER_S = 1 / SURFACES.cavityLagS;
/** Where decay and lag are this close, their quotient is taken from its series. */
const NEAR_RATIO = 0.01;
/** A lag smaller than this moves nothing. */
const LAG_MIN_K = 1e-9;
/** Values of fillPhi in one row entry. */
const PHI_COUNT = 4;

/**
 * Writes what the air, the lamp and the cavity give each mode from now on.
 * Cavity: T_c(s) = T_air(s) − B/μ + (T_c(0) − T_air(0) + B/μ) e^{−μ s} for air of slope B
 * @param state  with its drive at the instant it stands at
 * @source own: solution of T_c' = μ (T_air − T_c), μ = 1 / 5400 s
 */
export function fillAir(state: FilmState): void {
  const { drive, operator, airPerS, airSlopePerS, lagPerS } = state;
  const n = operator.nodeCount;
  const back = SURFACES.behindPanelWPerM2K;
  const airK = drive.airK - state.baseK;
  const trailK = airK - drive.airKPerS * SURFACES.cavityLagS;
  const lagK = state.cavityK - state.baseK - trailK;
  state.cavityLagK = Math.abs(lagK) < LAG_MIN_K ? 0 : lagK;
  const front = state.frontWPerM2K * airK + drive.lampWPerM2;
  for (let j = 0; j < n; j++) {
    const frontWeight = operator.modeWeights[j] as number;
    const backWeight = operator.modeWeights[(n - 1) * n + j] as number;
    airPerS[j] = frontWeight * front + backWeight * back * trailK;
    airSlopePerS[j] = drive.airKPerS * (frontWeight * state.frontWPerM2K + backWeight * back);
    lagPerS[j] = backWeight * back * state.cavityLagK;
  }
}

/**
 * The cavity after a part of the step [K].
 * @param state  at the start of the step
 * @param afterS  [s] since the start of the step, ≥ 0
 * @returns cavity temperature [K]
 * @source see fillAir
 */
export function cavityAfter(state: FilmState, afterS: number): number {
  const { drive } = state;
  const trailK = drive.airK + drive.airKPerS * (afterS - SURFACES.cavityLagS);
  return state.cavityLagK === 0 ? trailK : trailK + state.cavityLagK * Math.exp(-CAVITY_PER_S * afterS);
}

/**
 * Writes the decay functions of every mode at the thirds of a step.
 * @param state  written in place
 * @param stepS  [s] h, > 0
 * @source see fillPhi
 */
export function fillStepPhi(state: FilmState, stepS: number): void {
  const { operator, phiRatios, fadeRatios } = state;
  const n = operator.nodeCount;
  state.phiStepS = stepS;
  for (let j = 0; j < n; j++) {
    fillPhiThirds((operator.decaysPerS[j] as number) * stepS, phiRatios, j * PHI_COUNT, n * PHI_COUNT);
  }
  const fade = Math.exp((-CAVITY_PER_S * stepS) / 3);
  fadeRatios[0] = fade;
  fadeRatios[1] = fade * fade;
  fadeRatios[2] = fade * fade * fade;
}

/**
 * Writes the modes at a third of the step, with the heat of cure as a parabola through what is known of it.
 * m(τ) = e^{−λτ} m₀ + τ ((σ'₀ + g₀) φ1 + (2 (Δσ/τ − σ'₀) + g₁ τ) φ2) + lag
 * @param state  its stageWeights are written
 * @param thirdIndex  [1] 1, 2 or 3
 * @param afterS  [s] τ, that third of the step
 * @source variation of constants; derivation in DEVELOPERS.md
 */
export function conductStage(state: FilmState, thirdIndex: number, afterS: number): void {
  const { operator, phiRatios, startWeights, stageWeights, heatStartPerS, heatChangeWeights } = state;
  const { airPerS, airSlopePerS } = state;
  const n = operator.nodeCount;
  for (let j = 0; j < n; j++) {
    const at = ((thirdIndex - 1) * n + j) * PHI_COUNT;
    const heat = heatStartPerS[j] as number;
    const curve =
      2 * ((heatChangeWeights[j] as number) / afterS - heat) + (airSlopePerS[j] as number) * afterS;
    stageWeights[j] =
      (phiRatios[at] as number) * (startWeights[j] as number) +
      afterS *
        ((heat + (airPerS[j] as number)) * (phiRatios[at + 1] as number) +
          curve * (phiRatios[at + 2] as number));
  }
  if (state.cavityLagK !== 0) addLag(state, afterS, thirdIndex);
}

/**
 * Writes the modes at the end of the step again, now that the heat's rate is known at both ends.
 * σ'(s) = σ'₀ + p₁ s/h + p₂ (s/h)², with σ'(h) and ∫ σ' as found
 * @param state  its stageWeights are written
 * @param stepS  [s] h
 * @source see conductStage
 */
export function correctConduction(state: FilmState, stepS: number): void {
  const { operator, phiRatios, stageWeights, heatStartPerS, heatChangeWeights, heatEndPerS } = state;
  const n = operator.nodeCount;
  for (let j = 0; j < n; j++) {
    const at = (2 * n + j) * PHI_COUNT;
    const gap =
      (heatStartPerS[j] as number) +
      (heatEndPerS[j] as number) -
      (2 * (heatChangeWeights[j] as number)) / stepS;
    // The parabola of conductStage left p₂ = 0 and missed the end's rate by `gap`: p₂ = 3 gap, p₁ less 2 gap.
    stageWeights[j] =
      (stageWeights[j] as number) +
      stepS * gap * (6 * (phiRatios[at + 3] as number) - 2 * (phiRatios[at + 2] as number));
  }
}

const insideRatios = new Float64Array(PHI_COUNT);

/**
 * Writes node temperatures at any instant inside a finished step.
 * @param state  finished, not yet taken; its nodeK is written
 * @param stepS  [s] h
 * @param afterS  [s] since the start of the step, 0 … h
 * @source see conductStage and correctConduction
 */
export function warmInside(state: FilmState, stepS: number, afterS: number): void {
  const { operator, insideWeights, startWeights, heatStartPerS, heatChangeWeights, heatEndPerS } = state;
  const n = operator.nodeCount;
  const part = afterS / stepS;
  const fade = state.cavityLagK === 0 ? 0 : Math.exp(-CAVITY_PER_S * afterS);
  for (let j = 0; j < n; j++) {
    const decay = operator.decaysPerS[j] as number;
    const first = heatStartPerS[j] as number;
    const mean = (heatChangeWeights[j] as number) / stepS;
    const gap = first + (heatEndPerS[j] as number) - 2 * mean;
    fillPhi(decay * afterS, insideRatios, 0);
    const curve = (2 * (mean - first) - 2 * gap) * part + (state.airSlopePerS[j] as number) * afterS;
    let sum = (insideRatios[0] as number) * (startWeights[j] as number);
    sum += afterS * (first + (state.airPerS[j] as number)) * (insideRatios[1] as number);
    sum += afterS * curve * (insideRatios[2] as number);
    sum += afterS * 6 * gap * part * part * (insideRatios[3] as number);
    if (state.cavityLagK !== 0) {
      sum += (state.lagPerS[j] as number) * lagResponseS(decay, insideRatios[0] as number, fade, afterS);
    }
    insideWeights[j] = sum;
  }
  warmNodes(state, insideWeights);
}

/**
 * Writes node temperatures from modes.
 * T = V m
 * @param state  its nodeK is written
 * @param weights  [(J K / m²)^½] one a mode, counted from baseK
 * @source see HeatOperator
 */
export function warmNodes(state: FilmState, weights: Float64Array): void {
  const { operator, nodeK, baseK } = state;
  const n = operator.nodeCount;
  for (let i = 0; i < n; i++) {
    let sum = baseK;
    for (let j = 0; j < n; j++) sum += (operator.modeWeights[i * n + j] as number) * (weights[j] as number);
    nodeK[i] = sum;
  }
}

function addLag(state: FilmState, afterS: number, thirdIndex: number): void {
  const { operator, phiRatios, fadeRatios, stageWeights, lagPerS } = state;
  const n = operator.nodeCount;
  const fade = fadeRatios[thirdIndex - 1] as number;
  for (let j = 0; j < n; j++) {
    const remains = phiRatios[((thirdIndex - 1) * n + j) * PHI_COUNT] as number;
    const response = lagResponseS(operator.decaysPerS[j] as number, remains, fade, afterS);
    stageWeights[j] = (stageWeights[j] as number) + (lagPerS[j] as number) * response;
  }
}

/**
 * How a mode of decay λ has answered an input fading with the cavity's lag [s].
 * (e^{−μτ} − e^{−λτ}) / (λ − μ)
 * @param decayPerS  [1/s] λ
 * @param remainsRatio  [1] e^{−λτ}
 * @param fadeRatio  [1] e^{−μτ}
 * @param afterS  [s] τ, ≥ 0
 * @returns answer to an input of one [s], ≥ 0
 * @source convolution of two exponentials
 */
export function lagResponseS(
  decayPerS: number,
  remainsRatio: number,
  fadeRatio: number,
  afterS: number,
): number {
  const apart = decayPerS - CAVITY_PER_S;
  const x = apart * afterS;
  return Math.abs(x) < NEAR_RATIO
    ? fadeRatio * afterS * (1 - x * (1 / 2 - x * (1 / 6 - x / 24)))
    : (fadeRatio - remainsRatio) / apart;
}
