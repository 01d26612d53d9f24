// One room a step later: heat between air, walls and outside, and water in the air. A plant of its own, no estimator.
import type { RoomPlan } from '../scenarios/scenario.ts';
import { stepVapour } from './humidity.ts';
import type { Outdoor } from './outdoor.ts';

export interface RoomState {
  readonly airC: number;
  readonly wallC: number;
  /** Cars and fittings that have stood here for long follow the air slowly. */
  readonly bodyC: number;
  readonly vapourGPerM3: number;
  readonly isHeating: boolean;
}

export interface RoomDrive {
  readonly outdoor: Outdoor;
  /** Heater, people and a cold car's chill together. */
  readonly gainWPerM2: number;
  readonly openShare: number;
  readonly sourceGPerM3PerS: number;
  readonly stepS: number;
}

/** The room one step later; the air, which is quick, relaxes exactly, the walls by a half-implicit step. */
export function stepRoom(plan: RoomPlan, state: RoomState, drive: RoomDrive): RoomState {
  const { outdoor, stepS } = drive;
  const airJPerM2K = AIR_KG_PER_M3 * AIR_J_PER_KG_K * plan.heightM * FURNISHED_RATIO;
  const exchangePerS = exchangeOf(plan, state, drive);
  const outsideWPerM2K =
    plan.outsideWPerM2K * WINDOW_SHARE + exchangePerS * AIR_KG_PER_M3 * AIR_J_PER_KG_K * plan.heightM;
  const lossWPerM2K = plan.wallWPerM2K + outsideWPerM2K;
  const sunWPerM2 = outdoor.sunWPerM2 * plan.sunShare;
  const restC =
    (plan.wallWPerM2K * state.wallC + outsideWPerM2K * outdoor.airC + drive.gainWPerM2 + sunWPerM2 / 2) /
    lossWPerM2K;
  const airC = restC + (state.airC - restC) * Math.exp((-lossWPerM2K / airJPerM2K) * stepS);
  const meanAirC = (airC + state.airC) / 2;
  const wallOutsideWPerM2K = plan.outsideWPerM2K * (1 - WINDOW_SHARE);
  const wallLossWPerM2K = plan.wallWPerM2K + wallOutsideWPerM2K;
  const wallRestC =
    (plan.wallWPerM2K * meanAirC + wallOutsideWPerM2K * outdoor.airC + sunWPerM2 / 2) / wallLossWPerM2K;
  const wallShare = 1 - Math.exp((-wallLossWPerM2K / plan.wallJPerM2K) * stepS);
  return {
    airC,
    wallC: state.wallC + (wallRestC - state.wallC) * wallShare,
    bodyC: stepBody(state.bodyC, { airC: meanAirC, stepS }),
    vapourGPerM3: stepVapour(state.vapourGPerM3, {
      outsideGPerM3: outdoor.vapourGPerM3,
      exchangePerS,
      sourceGPerM3PerS: drive.sourceGPerM3PerS,
      wallC: state.wallC,
      stepS,
    }),
    isHeating: state.isHeating,
  };
}

/** Whether the burner runs: on below the target, off above it, in between as before. */
export function isHeatingFrom(plan: RoomPlan, state: RoomState, minuteMin: number): boolean {
  const entry = plan.thermostat.findLast(({ fromMin }) => fromMin <= minuteMin) ?? plan.thermostat.at(-1);
  if (entry === undefined) return false;
  if (state.airC < entry.targetC - HYSTERESIS_K) return true;
  return state.airC > entry.targetC + HYSTERESIS_K ? false : state.isHeating;
}

/** A heavy body of a car one step later: it follows the air around it within hours. */
export function stepBody(bodyC: number, { airC, stepS }: { airC: number; stepS: number }): number {
  return airC + (bodyC - airC) * Math.exp(-stepS / BODY_LAG_S);
}

/** Air changes a second: leaks, and through an open door what the warm air inside and the wind drive. */
function exchangeOf(plan: RoomPlan, state: RoomState, { outdoor, openShare }: RoomDrive): number {
  const drivenByWarmth = Math.sqrt(Math.max(state.airC - outdoor.airC, 0) / 10);
  return plan.leakPerS + openShare * (plan.doorPerS * drivenByWarmth + outdoor.windPerS);
}

const AIR_KG_PER_M3 = 1.24;
const AIR_J_PER_KG_K = 1006;
/** Benches and tools warm up with the air. */
const FURNISHED_RATIO = 2.2;
/** The part of the shell that is glass and thin door: it has no mass. */
const WINDOW_SHARE = 0.4;
const HYSTERESIS_K = 0.5;
const BODY_LAG_S = 4300;
