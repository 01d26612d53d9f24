// Kutta's 3/8 rule with an embedded third-order answer: four evaluations a step, the fifth is the next step's first.

/**
 * Values that change together, and the rates found for them at the five points of a step.
 */
export interface KuttaStep {
  count: number;
  readonly startFractions: Float64Array;
  readonly stageFractions: Float64Array;
  /** Five rows of `rowLength`: at 0, 1/3, 2/3, 1 of the step, and at its end. */
  readonly ratesPerS: Float64Array;
  readonly rowLength: number;
}

/**
 * How many evaluations a step has, the last of them shared with the next step [1].
 */
export const STAGE_COUNT = 5;

/** How much the third-order answer differs in its weights; it scales the tolerance, not the order. */
const EMBEDDED_WEIGHT = 1 / 16;

/**
 * Room for a step of so many values.
 * @param rowLength  [1] most values, ≥ 1
 * @returns arrays of zeros
 * @source own
 */
export function makeKuttaStep(rowLength: number): KuttaStep {
  return {
    count: 0,
    startFractions: new Float64Array(rowLength),
    stageFractions: new Float64Array(rowLength),
    ratesPerS: new Float64Array(rowLength * STAGE_COUNT),
    rowLength,
  };
}

/**
 * Writes the values at one point of the step from the rates of the points before it.
 * y₁ = y + h k₀/3;  y₂ = y + h (−k₀/3 + k₁);  y₃ = y + h (k₀ − k₁ + k₂);  y₄ = y + h (k₀ + 3 k₁ + 3 k₂ + k₃)/8
 * @param step  read, and its stageFractions written
 * @param stageIndex  [1] 1 … 4
 * @param stepS  [s] h, > 0
 * @source Kutta 1901; Hairer, Nørsett, Wanner 1993, table II.1.2
 */
export function formStage(step: KuttaStep, stageIndex: number, stepS: number): void {
  const { count, startFractions, stageFractions, ratesPerS, rowLength } = step;
  const second = rowLength;
  const third = 2 * rowLength;
  const fourth = 3 * rowLength;
  const part = stepS / 3;
  for (let i = 0; i < count; i++) {
    const start = startFractions[i] as number;
    const k0 = ratesPerS[i] as number;
    if (stageIndex === 1) {
      stageFractions[i] = start + part * k0;
      continue;
    }
    const k1 = ratesPerS[second + i] as number;
    if (stageIndex === 2) {
      stageFractions[i] = start + stepS * k1 - part * k0;
      continue;
    }
    const k2 = ratesPerS[third + i] as number;
    stageFractions[i] =
      stageIndex === 3
        ? start + stepS * (k0 - k1 + k2)
        : start + (stepS / 8) * (k0 + 3 * (k1 + k2) + (ratesPerS[fourth + i] as number));
  }
}

/**
 * The largest difference between the fourth- and the third-order answer among some of the values [1].
 * h (|k₀ − 3 k₁ + 3 k₂ − k₃| + 4 |k₃ − k₄|) / 16: with their signs both parts together are the difference to an
 * answer of order three; without, they fall with h³ only, but cannot cancel where a film turns to glass in one step
 * @param step  with all five rates
 * @param stepS  [s] h, > 0
 * @param fromIndex  [1] first value looked at
 * @param toIndex  [1] one past the last
 * @returns difference [1], ≥ 0
 * @source own: the one combination of the five rates that vanishes for all trees of order three
 */
export function embeddedDifference(
  step: KuttaStep,
  stepS: number,
  fromIndex: number,
  toIndex: number,
): number {
  const { ratesPerS, rowLength } = step;
  let largest = 0;
  for (let i = fromIndex; i < toIndex; i++) {
    const last = ratesPerS[3 * rowLength + i] as number;
    const bend =
      (ratesPerS[i] as number) +
      3 * ((ratesPerS[2 * rowLength + i] as number) - (ratesPerS[rowLength + i] as number)) -
      last;
    const drift = last - (ratesPerS[4 * rowLength + i] as number);
    largest = Math.max(largest, Math.abs(bend) + 4 * Math.abs(drift));
  }
  return largest * stepS * EMBEDDED_WEIGHT;
}

/**
 * Takes the end of the step as the start of the next.
 * @param step  written in place
 * @source own
 */
export function acceptStep(step: KuttaStep): void {
  const { count, startFractions, stageFractions, ratesPerS, rowLength } = step;
  const end = (STAGE_COUNT - 1) * rowLength;
  for (let i = 0; i < count; i++) {
    startFractions[i] = stageFractions[i] as number;
    ratesPerS[i] = ratesPerS[end + i] as number;
  }
}
