import { describe, expect, it } from 'vitest';
import { drawWeather, outdoorAt } from '../../../sensors-sim/air/outdoor.ts';
import { instantOfDay, localDayOf } from '../../../sensors-sim/localDay.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import { at } from '../playDay.ts';

const day = localDayOf(at('2026-01-12T12:00:00Z'), 'UTC');
const calm = { ...coldMorning.outdoor, dayToDayK: 0 };
const weatherAt = (minuteMin: number, seed = 7) =>
  outdoorAt(calm, { seed, day, at: instantOfDay(day, minuteMin) });

describe('the weather outside', () => {
  it('is coldest in the morning and warmest after noon, near what the scenario says', () => {
    expect(weatherAt(calm.lowestMin).airC).toBeCloseTo(calm.lowestC, 0);
    expect(weatherAt(calm.highestMin).airC).toBeCloseTo(calm.highestC, 0);
    expect(weatherAt(calm.highestMin).airC).toBeLessThan(4.5);
  });

  it('has sun in the day only', () => {
    expect([0, 400, 1000].map((minuteMin) => weatherAt(minuteMin).sunWPerM2)).toEqual([0, 0, 0]);
    expect(weatherAt(735).sunWPerM2).toBeGreaterThan(100);
  });

  it('goes over midnight without a jump', () => {
    const next = localDayOf(at('2026-01-13T00:00:00Z'), 'UTC');
    const midnight = { seed: 7, at: next.midnightAt };
    const before = outdoorAt(coldMorning.outdoor, { ...midnight, day });
    const after = outdoorAt(coldMorning.outdoor, { ...midnight, day: next });
    expect(before.airC).toBeCloseTo(after.airC, 6);
  });

  it('gets colder within the days of a spell and is as before when its round is over', () => {
    const spell = { byK: -8, comesWithinDays: 3, everyDays: 5 };
    const changeK = [0, 1, 2, 3, 4, 5].map((laterDays) => {
      // A day on which a round of five days begins.
      const noonAt = at(`2026-01-${12 + laterDays}T00:00:00Z`);
      const moment = { seed: 7, day: localDayOf(noonAt, 'UTC'), at: noonAt };
      return outdoorAt({ ...calm, spell }, moment).airC - outdoorAt(calm, moment).airC;
    });
    expect(changeK.map((each) => Math.round(each * 1e9) / 1e9)).toEqual([0, -2, -6, -8, -4, 0]);
  });

  it('is the same whether its draws are made for the day or for the instant', () => {
    const moment = { seed: 7, day, at: instantOfDay(day, 700) };
    const weather = drawWeather({ seed: 7, day });
    expect(outdoorAt(coldMorning.outdoor, { ...moment, weather })).toEqual(
      outdoorAt(coldMorning.outdoor, moment),
    );
  });

  it('holds less vapour than it can, and blows always', () => {
    for (let minuteMin = 0; minuteMin < 1440; minuteMin += 7) {
      const { vapourGPerM3, windPerS } = weatherAt(minuteMin);
      expect(vapourGPerM3).toBeGreaterThan(1.5);
      expect(vapourGPerM3).toBeLessThan(7);
      expect(windPerS).toBeGreaterThan(0);
    }
  });
});
