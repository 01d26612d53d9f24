import { describe, expect, it } from 'vitest';
import { isHeatingFrom, type RoomState, stepRoom } from '../../../sensors-sim/air/stepRoom.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import type { RoomPlan } from '../../../sensors-sim/scenarios/scenario.ts';

const [room] = coldMorning.rooms as [RoomPlan];
const outdoor = { airC: -4, vapourGPerM3: 3, sunWPerM2: 0, windPerS: 0.002 };
const still = { outdoor, gainWPerM2: 0, openShare: 0, sourceGPerM3PerS: 0, stepS: 10 };
const even = (airC: number): RoomState => ({
  airC,
  wallC: airC,
  bodyC: airC,
  vapourGPerM3: 3,
  isHeating: false,
});

function after(state: RoomState, drive: Parameters<typeof stepRoom>[2], forS: number): RoomState {
  let next = state;
  for (let elapsedS = 0; elapsedS < forS; elapsedS += drive.stepS) next = stepRoom(room, next, drive);
  return next;
}

describe('the heat balance of a room', () => {
  it.each([0, 40, 120])('comes to rest with %i W/m² where the closed form says', (gainWPerM2) => {
    const rest = after(even(10), { ...still, gainWPerM2, stepS: 60 }, 40 * 86_400);
    const windowWPerM2K = room.outsideWPerM2K * 0.4;
    const wallWPerM2K = 1 / (1 / room.wallWPerM2K + 1 / (room.outsideWPerM2K * 0.6));
    const leakWPerM2K = room.leakPerS * 1.24 * 1006 * room.heightM;
    const risenK = gainWPerM2 / (windowWPerM2K + wallWPerM2K + leakWPerM2K);
    expect(rest.airC).toBeCloseTo(outdoor.airC + risenK, 3);
  });

  it('stays where it is when inside and outside are alike', () => {
    const rest = after(even(-4), still, 86_400);
    for (const temperatureC of [rest.airC, rest.wallC, rest.bodyC]) expect(temperatureC).toBeCloseTo(-4, 9);
  });

  it('gives nearly the same with half the step', () => {
    const drive = { ...still, gainWPerM2: 100 };
    const whole = after(even(9), drive, 3600);
    const half = after(even(9), { ...drive, stepS: 5 }, 3600);
    expect(Math.abs(whole.airC - half.airC)).toBeLessThan(0.02);
    expect(Math.abs(whole.wallC - half.wallC)).toBeLessThan(0.02);
  });

  it('keeps walls and car bodies behind the air', () => {
    const warmed = after(even(9), { ...still, gainWPerM2: 120 }, 1800);
    expect(warmed.airC - 9).toBeGreaterThan(3);
    expect(warmed.wallC - 9).toBeLessThan((warmed.airC - 9) / 2);
    expect(warmed.bodyC).toBeGreaterThan(9);
    expect(warmed.bodyC).toBeLessThan(warmed.airC);
  });

  it('loses warmth through an open door within minutes and gets some back from the walls', () => {
    const open = after(even(15), { ...still, openShare: 1 }, 180);
    expect(open.airC).toBeLessThan(10);
    const closed = after(open, still, 600);
    expect(closed.airC).toBeGreaterThan(open.airC + 2);
    expect(closed.airC).toBeLessThan(15);
  });

  it('is warmer the more the sun shines', () => {
    const sunny = after(even(10), { ...still, outdoor: { ...outdoor, sunWPerM2: 250 } }, 3600);
    expect(sunny.airC).toBeGreaterThan(after(even(10), still, 3600).airC);
  });
});

describe('the thermostat', () => {
  it.each([
    [7.9, false, 300, true],
    [9.2, false, 300, false],
    [9.2, true, 300, true],
    [9.9, true, 300, false],
    [9.9, false, 400, true],
    [18.9, true, 400, false],
    [9.9, false, 1100, false],
  ])('at %f °C, running %s, minute %i: runs %s', (airC, isHeating, minuteMin, expected) => {
    expect(isHeatingFrom(room, { ...even(airC), isHeating }, minuteMin)).toBe(expected);
  });

  it('never runs where there is none', () => {
    expect(isHeatingFrom({ ...room, thermostat: [] }, even(-10), 400)).toBe(false);
  });
});
