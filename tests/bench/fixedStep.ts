// The plain way to solve a film: classical fourth-order Runge–Kutta with a fixed step over the method of lines.
import { type FilmQuestion, makeLineRates, type Mesh } from './lineRates.ts';

export interface Instants {
  readonly gelMin: number;
  readonly sandMin: number;
  readonly coolMin: number;
}

export interface FixedStep extends Mesh {
  readonly stepS: number;
}

const HORIZON_S = 43_200;
const GEL = 0.05;
const SANDABLE = 0.75;
const COOL_K = 45 + 273.15;
const HALVINGS_COUNT = 30;

/** Makes a solver of one film; every call solves it anew, in the same memory. */
export function makeFixedStep(question: FilmQuestion, { stepS, ...mesh }: FixedStep): () => Instants {
  const { start, filmCount, conversionIndex, write } = makeLineRates(question, mesh);
  const size = start.length;
  const state = new Float64Array(size);
  const before = new Float64Array(size);
  const stage = new Float64Array(size);
  const k1 = new Float64Array(size);
  const k2 = new Float64Array(size);
  const k3 = new Float64Array(size);
  const k4 = new Float64Array(size);
  const after = new Float64Array(size);

  function step(atS: number): void {
    before.set(state);
    for (let i = 0; i < size; i++) stage[i] = (before[i] as number) + (stepS / 2) * (k1[i] as number);
    write(atS + stepS / 2, stage, k2);
    for (let i = 0; i < size; i++) stage[i] = (before[i] as number) + (stepS / 2) * (k2[i] as number);
    write(atS + stepS / 2, stage, k3);
    for (let i = 0; i < size; i++) stage[i] = (before[i] as number) + stepS * (k3[i] as number);
    write(atS + stepS, stage, k4);
    for (let i = 0; i < size; i++) {
      const sum = (k1[i] as number) + 2 * (k2[i] as number) + 2 * (k3[i] as number) + (k4[i] as number);
      state[i] = (before[i] as number) + (stepS / 6) * sum;
    }
    write(atS + stepS, state, after);
  }

  /** The part of the step at which a conversion reaches a level, on the cubic through both ends and their slopes. */
  function crossing(index: number, level: number): number {
    const from = before[index] as number;
    const to = state[index] as number;
    const fromSlope = stepS * (k1[index] as number);
    const toSlope = stepS * (after[index] as number);
    let low = 0;
    let high = 1;
    for (let halving = 0; halving < HALVINGS_COUNT; halving++) {
      const x = (low + high) / 2;
      const y = 1 - x;
      const cubic =
        y * y * (1 + 2 * x) * from + x * x * (3 - 2 * x) * to + x * y * (y * fromSlope - x * toSlope);
      if (cubic < level) low = x;
      else high = x;
    }
    return high;
  }

  function hasCrossed(index: number, level: number): boolean {
    return (before[index] as number) < level && (state[index] as number) >= level;
  }

  function hottestK(temperatures: Float64Array): number {
    let hottest = 0;
    for (let i = 0; i < filmCount; i++) hottest = Math.max(hottest, temperatures[i] as number);
    return hottest;
  }

  return function solve() {
    let gelS = Infinity;
    let sandS = 0;
    let sandableCount = 0;
    state.set(start);
    write(0, state, k1);
    for (let atS = 0; atS < HORIZON_S; atS += stepS) {
      step(atS);
      for (let index = conversionIndex; index < size; index++) {
        if (hasCrossed(index, GEL)) gelS = Math.min(gelS, atS + stepS * crossing(index, GEL));
        if (hasCrossed(index, SANDABLE)) {
          sandS = Math.max(sandS, atS + stepS * crossing(index, SANDABLE));
          sandableCount++;
        }
      }
      const warmK = hottestK(state);
      if (sandableCount === filmCount && warmK <= COOL_K) {
        const wasK = hottestK(before);
        const coolS = wasK <= COOL_K ? sandS : atS + (stepS * (wasK - COOL_K)) / (wasK - warmK);
        return { gelMin: gelS / 60, sandMin: sandS / 60, coolMin: Math.max(coolS, sandS) / 60 };
      }
      k1.set(after);
    }
    return { gelMin: NaN, sandMin: NaN, coolMin: NaN };
  };
}
