// What the cold cost: which batches count where, and how their minutes add up by day, week, hour and cause.
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import {
  type ColdSignal,
  findDoors,
  findHumidSpells,
  meanHalfHours,
} from '../../server/domain/coldSignal.ts';
import { makeWallClock } from '../../server/domain/localHours.ts';
import {
  batchesOfBay,
  bayOf,
  type CuredBatch,
  curedFrom,
  splitByCause,
  spreadOverHours,
  sumDays,
  sumWeeks,
} from '../../server/domain/slowdownCost.ts';
import { BODY_FILLER, estimateOf, minute, MIXED_AT, series, stateOf } from '../support/domainFixtures.ts';

const DAY_MIN = 1440;
const wall = makeWallClock('UTC');

function signalOf({ air, humidity }: Pick<ColdSignal, 'air' | 'humidity'>): ColdSignal {
  const humidSpells = findHumidSpells(humidity);
  return { air, humidity, doors: findDoors(air), humidSpells, halfHoursC: meanHalfHours(air) };
}

function cured(parts: Partial<BatchState> = {}): CuredBatch {
  const batch = curedFrom(stateOf({ estimate: estimateOf({ expectedMin: 30, cardMin: 20 }), ...parts }));
  if (batch === null) throw new Error('has no time');
  return batch;
}

describe('the minutes of a batch', () => {
  it('are what it takes above the card’s conditions, and none below', () => {
    expect(cured()).toMatchObject({ addedMin: 10, carMin: 0, readyAt: minute(30) });
    expect(cured({ estimate: estimateOf({ expectedMin: 18, cardMin: 20 }) }).addedMin).toBe(0);
  });

  it('are not known without an estimate, or without its times', () => {
    expect(curedFrom(stateOf({ estimate: null }))).toBeNull();
    expect(curedFrom(stateOf({ estimate: estimateOf({ expectedMin: null }) }))).toBeNull();
    expect(curedFrom(stateOf({ estimate: estimateOf({ cardMin: null }) }))).toBeNull();
  });

  it('are the car’s as far as it was rolled in cold', () => {
    const of = (minutes: number, rolledInAt: Instant | null): number =>
      cured({
        rolledInAt,
        estimate: estimateOf({ expectedMin: 30, cardMin: 20, reasons: [{ code: 'car-cold', minutes }] }),
      }).carMin;
    expect(of(4, MIXED_AT)).toBe(4);
    expect(of(14, MIXED_AT)).toBe(10);
    expect(of(4, null)).toBe(0);
    expect(cured({ rolledInAt: MIXED_AT }).carMin).toBe(0);
  });
});

describe('the bay of a batch', () => {
  it('is where it stood longest while it cured', () => {
    const stays = (afterMin: number) => [
      { bayId: 'bay-1', fromAt: MIXED_AT },
      { bayId: 'bay-2', fromAt: minute(afterMin) },
    ];
    const estimate = estimateOf({ expectedMin: 30, cardMin: 20 });
    expect(bayOf(stateOf({ estimate }))).toBe('bay-1');
    expect(bayOf(stateOf({ estimate, stays: stays(20) }))).toBe('bay-1');
    expect(bayOf(stateOf({ estimate, stays: stays(10) }))).toBe('bay-2');
    const back = [...stays(8), { bayId: 'bay-1', fromAt: minute(22) }];
    expect(bayOf(stateOf({ estimate, stays: back }))).toBe('bay-1');
    expect(bayOf(stateOf({ estimate: null, stays: stays(10) }))).toBe('bay-1');
  });

  it('gathers what was mixed in a span and not scrapped, in order', () => {
    const batch = (id: string, mixedMin: number, more: Partial<BatchState> = {}): BatchState =>
      stateOf({ id: id as BatchState['id'], mixedAt: minute(mixedMin), ...more });
    const states = [
      batch('late', 59),
      batch('first', 0),
      batch('before', -1),
      batch('after', 60),
      batch('scrapped', 5, { stage: 'scrapped' }),
      batch('elsewhere', 6, { stays: [{ bayId: 'bay-2', fromAt: minute(6) }] }),
    ];
    const found = batchesOfBay(states, { bayId: 'bay-1', fromAt: minute(0), toAt: minute(60) });
    expect(found.map(({ id }) => id)).toEqual(['first', 'late']);
  });
});

describe('days and weeks', () => {
  const span = { fromAt: minute(-7 * 60), toAt: minute(9 * DAY_MIN) };
  const hours = wall.hoursOf(span);
  const batches = [
    cured(),
    cured({ mixedAt: minute(60) }),
    cured({ mixedAt: minute(7 * DAY_MIN) }),
    cured({ mixedAt: minute(30 * DAY_MIN) }),
  ];
  const days = sumDays(batches, hours);

  it('hold every day of the span, and each batch on the day it was mixed', () => {
    expect([...days.keys()]).toHaveLength(10);
    expect(days.get('2026-01-12')).toEqual({ addedMin: 20, batchCount: 2 });
    expect(days.get('2026-01-13')).toEqual({ addedMin: 0, batchCount: 0 });
    expect(days.get('2026-01-19')).toEqual({ addedMin: 10, batchCount: 1 });
  });

  it('are gathered from Monday to Sunday', () => {
    expect([...sumWeeks(days)]).toEqual([
      ['2026-01-12', { addedMin: 20, batchCount: 2 }],
      ['2026-01-19', { addedMin: 10, batchCount: 1 }],
    ]);
  });
});

describe('the hours of a batch', () => {
  it('share its minutes by the time it cured in them', () => {
    const batch = cured({ mixedAt: minute(50) });
    const parts = spreadOverHours(batch, wall.hoursOf({ fromAt: minute(50), toAt: batch.readyAt }));
    expect(parts).toEqual([
      { weekday: 'Mon', hourIndex: 7, addedMin: 10 / 3 },
      { weekday: 'Mon', hourIndex: 8, addedMin: 20 / 3 },
    ]);
  });
});

describe('causes', () => {
  const at = (fromMin: number, untilMin: number, airC: (atMin: number) => number) =>
    series(
      ...Array.from({ length: untilMin - fromMin + 1 }, (_, i) => [fromMin + i, airC(fromMin + i)] as const),
    );
  const sumOf = (parts: Readonly<Record<string, number>>): number =>
    Object.values(parts).reduce((sum, minutes) => sum + minutes, 0);

  it('divide a batch’s minutes by how cold each made it, and add up to the whole', () => {
    // At 12 °C, the bay comes to 16 °C later that day: half of the eight degrees is the heating's.
    const air = at(-600, 700, (atMin) => (atMin < 300 ? 12 : 16));
    const parts = splitByCause(cured(), signalOf({ air, humidity: [] }), BODY_FILLER);
    expect(parts['heating-off']).toBeCloseTo(5, 9);
    expect(parts['outdoor-cold']).toBeCloseTo(5, 9);
    expect(sumOf(parts)).toBeCloseTo(10, 9);
  });

  it('leave the car its own', () => {
    const air = at(-600, 700, () => 12);
    const parts = splitByCause({ ...cured(), carMin: 4 }, signalOf({ air, humidity: [] }), BODY_FILLER);
    expect(parts).toMatchObject({ 'cold-car': 4, 'outdoor-cold': 6, door: 0 });
  });

  it('give what warm air cannot explain to the cold outside', () => {
    const parts = splitByCause(cured(), signalOf({ air: [], humidity: [] }), BODY_FILLER);
    expect(parts).toMatchObject({ 'outdoor-cold': 10, door: 0, 'heating-off': 0, 'humid-spell': 0 });
  });

  it('blame humid spells only where the card says that humidity slows it', () => {
    const air = at(-60, 120, () => 18);
    const wet = signalOf({ air, humidity: at(-60, 120, () => 104) });
    const slowed = { ...BODY_FILLER, humidityEffectPer10Pct: 0.05 };
    const humidOf = (card: typeof BODY_FILLER, signal = wet): number =>
      splitByCause(cured(), signal, card)['humid-spell'];
    expect(humidOf(BODY_FILLER)).toBe(0);
    // exp(−0.05 · 50 / 10) of the pace is what 3.6 K colder leaves, where ten degrees halve it; the air lacks 2 K.
    expect(humidOf(slowed)).toBeCloseTo((10 * 3.6067) / 5.6067, 3);
    expect(humidOf(slowed, signalOf({ air, humidity: at(-60, 120, () => 60) }))).toBe(0);
  });
});
