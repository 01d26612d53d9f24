// How wrong the air of a film may be: gaps, silence, moves and what is to come.
import { describe, expect, it } from 'vitest';
import { type AirDoubt, aheadOffsetSdK, doubtAir, type DoubtfulFilm } from '../../server/domain/airDoubt.ts';
import type { AirPoint } from '../../server/domain/airSeries.ts';
import { minute, MIXED_AT, series } from '../support/domainFixtures.ts';

/** A film of 20 min in bay 1. */
function doubt(
  airs: Readonly<Record<string, readonly AirPoint[]>>,
  film: Partial<DoubtfulFilm> = {},
  aheadErrorSdK?: number,
): AirDoubt {
  const whole = {
    stays: [{ bayId: 'bay-1', fromAt: MIXED_AT }],
    mixedAt: MIXED_AT,
    nowAt: MIXED_AT,
    readyAt: minute(20),
    ...film,
  };
  return doubtAir(whole, (bayId) => ({
    air: airs[bayId] ?? [],
    humidity: [],
    ...(aheadErrorSdK === undefined ? {} : { aheadErrorSdK }),
  }));
}

const each = (everyMin: number, fromMin: number, untilMin: number): readonly AirPoint[] =>
  series(
    ...Array.from(
      { length: Math.floor((untilMin - fromMin) / everyMin) + 1 },
      (_, index) => [fromMin + index * everyMin, 20] as const,
    ),
  );
const stays = (...list: readonly (readonly [string, number])[]) =>
  list.map(([bayId, fromMin]) => ({ bayId, fromAt: minute(fromMin) }));

describe('air that is to come', () => {
  it('is wrong by the sensor at once and by 0.42 K at the hour', () => {
    // Design MODEL §5; as one even offset over the way an error that grows counts two thirds.
    expect(aheadOffsetSdK({ aheadMin: 0 })).toBeCloseTo(0.3, 12);
    expect(aheadOffsetSdK({ aheadMin: 90 })).toBeCloseTo(0.42, 12);
    expect(aheadOffsetSdK({ aheadMin: 90, aheadErrorSdK: 1 })).toBeCloseTo(1, 12);
    expect(aheadOffsetSdK({ aheadMin: 90, aheadErrorSdK: 0.1 })).toBeCloseTo(0.3, 12);
  });

  it('is all that is doubtful of a film whose bay has just spoken', () => {
    const { offsetSdK, silentMaxMin } = doubt({ 'bay-1': each(1, -60, 0) });
    expect(offsetSdK).toBeCloseTo(aheadOffsetSdK({ aheadMin: 20 }), 12);
    expect(silentMaxMin).toBe(0);
  });

  it('counts by the part of the film’s life that it takes, none when it is over', () => {
    const { offsetSdK } = doubt({ 'bay-1': each(1, -60, 15) }, { nowAt: minute(15) });
    expect(offsetSdK).toBeCloseTo(aheadOffsetSdK({ aheadMin: 5 }) / 4, 12);
    expect(doubt({ 'bay-1': each(1, -60, 40) }, { nowAt: minute(40) })).toEqual({
      offsetSdK: 0,
      silentMaxMin: 0,
    });
  });

  it('takes the bay’s own error where it is known', () => {
    const air = { 'bay-1': each(1, -60, 0) };
    expect(doubt(air, {}, 0.9).offsetSdK).toBeGreaterThan(doubt(air).offsetSdK + 0.1);
    expect(doubt(air, {}, 0.42)).toEqual(doubt(air));
  });
});

describe('silence', () => {
  it('of up to twenty minutes adds nothing, then more for each minute', () => {
    const air = { 'bay-1': series([0, 20]) };
    const film = { readyAt: minute(60) };
    const sds = [0, 10, 20, 21, 30, 45, 60].map((nowMin) => doubt(air, { ...film, nowAt: minute(nowMin) }));
    expect(sds[1]?.offsetSdK).toBe(sds[0]?.offsetSdK);
    expect(sds[2]?.offsetSdK).toBe(sds[0]?.offsetSdK);
    const rising = sds.slice(2).map(({ offsetSdK }) => offsetSdK);
    expect(rising).toEqual(rising.toSorted((a, b) => a - b));
    expect(new Set(rising).size).toBe(5);
    expect(sds.map(({ silentMaxMin }) => silentMaxMin)).toEqual([0, 10, 20, 21, 30, 45, 60]);
    // 25 min past the twentieth, of 1 K in 45 min with the root of time.
    expect(sds[5]?.offsetSdK).toBeCloseTo(
      Math.hypot(aheadOffsetSdK({ aheadMin: 60 }), Math.sqrt(25 / 45)),
      9,
    );
  });

  it('grows no more once the film should be ready', () => {
    const air = { 'bay-1': series([0, 20]) };
    const [then, later] = [20, 300].map((nowMin) => doubt(air, { nowAt: minute(nowMin) }));
    expect(later).toEqual(then);
  });

  it('counts from mixing where the bay never spoke, and from the last reading where that was before', () => {
    expect(doubt({}, { nowAt: minute(12) }).silentMaxMin).toBe(12);
    expect(doubt({}, { nowAt: minute(12) }).offsetSdK).toBeCloseTo(aheadOffsetSdK({ aheadMin: 20 }), 12);
    const old = doubt({ 'bay-1': series([-40, 20]) }, { nowAt: minute(2) });
    expect(old.silentMaxMin).toBe(42);
    expect(old.offsetSdK).toBeCloseTo(Math.hypot(aheadOffsetSdK({ aheadMin: 60 }), Math.sqrt(22 / 45)), 9);
  });

  it('is none before readings that a clock ahead of ours has sent', () => {
    expect(doubt({ 'bay-1': series([-5, 20], [1, 20]) }).silentMaxMin).toBe(0);
  });
});

describe('a gap', () => {
  const life = { readyAt: minute(100), nowAt: minute(100) };
  const torn = (fromMin: number, untilMin: number) => ({
    'bay-1': [...each(5, -60, fromMin), ...each(5, untilMin, 100)],
  });

  it('of up to twenty minutes is none', () => {
    expect(doubt(torn(40, 60), life)).toEqual({ offsetSdK: 0, silentMaxMin: 0 });
  });

  it('is doubted the more the longer it is, by the part of life that it takes', () => {
    const { offsetSdK, silentMaxMin } = doubt(torn(30, 60), life);
    expect(silentMaxMin).toBe(30);
    // A bridge of 30 min: a sixth of what would have wandered, over 30 of 100 minutes.
    expect(offsetSdK).toBeCloseTo(0.3 * Math.sqrt(30 / 45 / 6), 9);
    const sds = [51, 60, 75, 95].map((untilMin) => doubt(torn(30, untilMin), life).offsetSdK);
    expect(sds).toEqual(sds.toSorted((a, b) => a - b));
  });

  it('of which only the end or the beginning fell into the film’s life counts by that', () => {
    const begun = doubt({ 'bay-1': [...each(5, -60, -20), ...each(5, 10, 100)] }, life);
    expect(begun.silentMaxMin).toBe(30);
    expect(begun.offsetSdK).toBeCloseTo(0.1 * Math.sqrt(30 / 45 / 6), 9);
    const ended = doubt({ 'bay-1': [...each(5, -60, 90), ...each(5, 120, 150)] }, life);
    expect(ended.offsetSdK).toBeCloseTo(0.1 * Math.sqrt(30 / 45 / 6), 9);
  });

  it('reaches from mixing to a first reading that came late', () => {
    const late = doubt({ 'bay-1': each(5, 30, 100) }, life);
    expect(late.silentMaxMin).toBe(30);
    expect(late.offsetSdK).toBeCloseTo(0.3 * Math.sqrt(30 / 45 / 6), 9);
    expect(doubt({ 'bay-1': each(5, 15, 100) }, life)).toEqual({ offsetSdK: 0, silentMaxMin: 0 });
  });

  it('adds to another by squares', () => {
    const air = [...each(5, -60, 10), ...each(5, 40, 50), ...each(5, 80, 100)];
    expect(doubt({ 'bay-1': air }, life).offsetSdK).toBeCloseTo(
      Math.SQRT2 * doubt(torn(10, 40), life).offsetSdK,
      9,
    );
  });

  it('that began after the film was ready does not matter', () => {
    const air = { 'bay-1': [...each(5, -60, 100), ...each(5, 200, 210)] };
    expect(doubt(air, life)).toEqual({ offsetSdK: 0, silentMaxMin: 0 });
  });
});

describe('a move', () => {
  const life = { readyAt: minute(100), nowAt: minute(100) };
  const moved = { ...life, stays: stays(['bay-1', 0], ['bay-2', 50]) };

  it('between bays that both speak leaves no doubt', () => {
    const airs = { 'bay-1': each(5, -60, 100), 'bay-2': each(5, -60, 100) };
    expect(doubt(airs, moved)).toEqual({ offsetSdK: 0, silentMaxMin: 0 });
  });

  it('out of a bay that had fallen silent leaves that silence as a gap', () => {
    const airs = { 'bay-1': each(5, -60, 20), 'bay-2': each(5, -60, 100) };
    const { offsetSdK, silentMaxMin } = doubt(airs, moved);
    expect(silentMaxMin).toBe(30);
    expect(offsetSdK).toBeCloseTo(0.3 * Math.sqrt(30 / 45 / 6), 9);
  });

  it('into a silent bay leaves what is to come there, from its last reading on', () => {
    const airs = { 'bay-1': each(5, -60, 50), 'bay-2': series([40, 20]) };
    const { offsetSdK, silentMaxMin } = doubt(airs, { ...moved, nowAt: minute(55) });
    expect(silentMaxMin).toBe(15);
    expect(offsetSdK).toBeCloseTo(aheadOffsetSdK({ aheadMin: 60 }) / 2, 9);
  });

  it('after the film was ready changes nothing', () => {
    const airs = { 'bay-1': each(1, -60, 15), 'bay-2': each(5, -60, 10) };
    const still = doubt(airs, { nowAt: minute(60) });
    const late = doubt(airs, { nowAt: minute(60), stays: stays(['bay-1', 0], ['bay-2', 40]) });
    expect(late).toEqual(still);
    expect(still.offsetSdK).toBeGreaterThan(0);
  });
});
