// From what is known of a batch to the engine's question: its air, what is behind its panel, its lamps.
import { describe, expect, it } from 'vitest';
import type { BatchState } from '../../server/domain/batch.ts';
import { type FilmQuestion, filmJobFrom } from '../../server/domain/filmJob.ts';
import { judgeJob } from '../../server/engine/index.ts';
import { baysOf, minute, MIXED_AT, series, stateOf, steadyAir } from '../support/domainFixtures.ts';

const steady = baysOf({ 'bay-1': steadyAir(20) });

/** The question for a batch that must have one; every question is one that the engine takes. */
function questionOf(state: Partial<BatchState>, bays = steady, nowAt = minute(30)): FilmQuestion {
  const film = filmJobFrom(stateOf(state), bays, nowAt);
  if (film === null) throw new Error('there is no air');
  expect(judgeJob(film.job)).toEqual([]);
  return film;
}

const stays = (...list: readonly (readonly [string, number])[]) =>
  list.map(([bayId, fromMin]) => ({ bayId, fromAt: minute(fromMin) }));

describe('the question', () => {
  it('is the batch in its air from mixing on', () => {
    expect(questionOf({ underlayMm: 1.5, hardenerPct: 2.5 })).toEqual({
      job: {
        substrate: 'steel',
        thicknessMm: 2,
        hardenerPct: 2.5,
        underlayMm: 1.5,
        airC: [
          [0, 20],
          [60, 20],
        ],
        humidityPct: [
          [0, 50],
          [60, 50],
        ],
        cavityStartC: 20,
        lampMinWPerM2: [],
        movingAir: false,
      },
      newestReading: { at: minute(60), measurement: 20 },
      airNowC: 20,
      humidityNowPct: 50,
      panelStartC: 20,
      isHumidityKnown: true,
    });
  });

  it('is none while no bay has spoken', () => {
    expect(filmJobFrom(stateOf(), baysOf({}), minute(0))).toBeNull();
    expect(filmJobFrom(stateOf(), baysOf({ 'bay-2': steadyAir(20) }), minute(0))).toBeNull();
  });

  it('assumes the humidity of the cards where nobody measures it', () => {
    const film = questionOf({}, baysOf({ 'bay-1': steadyAir(20, null) }));
    expect(film).toMatchObject({
      humidityNowPct: 50,
      isHumidityKnown: false,
      job: { humidityPct: [[0, 50]] },
    });
  });

  it('no longer trusts a humidity that is older than three quarters of an hour', () => {
    const bays = baysOf({ 'bay-1': { air: series([0, 14]), humidity: series([0, 90]) } });
    expect(questionOf({}, bays, minute(45))).toMatchObject({ humidityNowPct: 90, isHumidityKnown: true });
    expect(questionOf({}, bays, minute(46))).toMatchObject({ humidityNowPct: 50, isHumidityKnown: false });
  });

  it('takes a panel that was measured as it is', () => {
    expect(questionOf({ panelTemperatureC: 8 })).toMatchObject({ panelStartC: 8, job: { panelStartC: 8 } });
    expect(questionOf({}).job).not.toHaveProperty('panelStartC');
  });

  it('holds on to air that was last told before mixing, and says how old it is', () => {
    const film = questionOf(
      {},
      baysOf({ 'bay-1': { air: series([-200, 14]), humidity: series([-200, 70]) } }),
    );
    expect(film.job).toMatchObject({ airC: [[0, 14]], cavityStartC: 14 });
    expect(film.newestReading).toEqual({ at: minute(-200), measurement: 14 });
  });

  it('leads the air of the bay where it stands on, and tells the air now as it was read', () => {
    const heated = { air: series([-20, 14], [-10, 15], [0, 16], [10, 17]), humidity: [] };
    const film = questionOf({}, baysOf({ 'bay-1': heated }), minute(10));
    expect(film).toMatchObject({ airNowC: 17, newestReading: { at: minute(10), measurement: 17 } });
    const after = film.job.airC.filter(([atMin]) => atMin > 10);
    expect(after.map(([atMin]) => atMin)).toEqual([21, 43, 76, 109]);
    expect(after.at(-1)?.[1]).toBeCloseTo(17 + 2 * (1 - Math.exp(-3)), 9);
  });

  it('has no more points for a sensor that speaks each second', () => {
    const seconds = Array.from({ length: 3601 }, (_, index) => [index / 60 - 30, 10 + index / 1200] as const);
    const film = questionOf({}, baysOf({ 'bay-1': { air: series(...seconds), humidity: [] } }));
    expect(film.job.airC.length).toBeLessThanOrEqual(6);
  });

  it('begins in air that was led on to its mixing', () => {
    const heated = { air: series([-32, 14], [-22, 15], [-12, 16]), humidity: [] };
    const film = questionOf({}, baysOf({ 'bay-1': heated }), minute(0));
    expect(film.airNowC).toBe(16);
    expect(film.job.airC[0]?.[1]).toBeGreaterThan(16.5);
  });

  it('does not lead on the air of a bay that the batch has left for one that never spoke', () => {
    const heated = { air: series([-20, 14], [-10, 15], [0, 16], [10, 17], [20, 18]), humidity: [] };
    const moved = { bayId: 'bay-2', stays: stays(['bay-1', 0], ['bay-2', 5]) };
    expect(questionOf(moved, baysOf({ 'bay-1': heated })).job.airC).toEqual([
      [0, 16],
      [5, 16.5],
    ]);
  });

  it('joins two readings by a straight line, however far apart', () => {
    const gap = { air: series([-10, 20], [0, 20], [40, 12]), humidity: [] };
    expect(questionOf({}, baysOf({ 'bay-1': gap }), minute(40)).job.airC).toEqual([
      [0, 20],
      [40, 12],
    ]);
  });

  it('follows a batch from bay to bay', () => {
    const bays = baysOf({ 'bay-1': steadyAir(10), 'bay-2': steadyAir(25, 30) }, ['bay-2']);
    const film = questionOf({ bayId: 'bay-2', stays: stays(['bay-1', 0], ['bay-2', 12]) }, bays);
    expect(film.job.airC.map(([, airC]) => airC)).toEqual([10, 10, 25, 25]);
    expect(film).toMatchObject({ airNowC: 25, humidityNowPct: 30, job: { movingAir: true } });
  });

  it('begins with the first bay that speaks when the batch was mixed where none does', () => {
    const bays = baysOf({ 'bay-2': steadyAir(25) });
    const film = questionOf({ bayId: 'bay-2', stays: stays(['bay-1', 0], ['bay-2', 12]) }, bays);
    expect(film).toMatchObject({ airNowC: 25, job: { cavityStartC: 25 } });
    expect(film.panelStartC).toBeCloseTo(25, 9);
  });
});

describe('what is behind the panel', () => {
  const lagged = (fromC: number, toC: number, forMin: number): number =>
    toC + (fromC - toC) * Math.exp(-forMin / 90);

  it('lags the bay’s air of the last six hours', () => {
    const heated = { air: series([-360, 10], [-90, 10], [-89.999, 20], [60, 20]), humidity: [] };
    expect(questionOf({}, baysOf({ 'bay-1': heated })).job.cavityStartC).toBeCloseTo(lagged(10, 20, 90), 2);
  });

  it('begins at six hours before mixing with the air of then', () => {
    const heated = { air: series([-361, 10], [-360, 20], [60, 20]), humidity: [] };
    expect(questionOf({}, baysOf({ 'bay-1': heated })).job.cavityStartC).toBeCloseTo(20, 9);
  });

  it.each([
    ['as told', { outdoorTemperatureC: -5 }, -5],
    ['as told, rather than as the yard says', { outdoorTemperatureC: -7 }, -7],
    ['as the yard says', { outdoorTemperatureC: null }, 2],
  ])('warms up from the cold outside since the car rolled in, %s', (_, told, outsideC) => {
    const bays = baysOf({ 'bay-1': steadyAir(20), yard: steadyAir(2) });
    const film = questionOf({ rolledInAt: minute(-45), ...told }, bays);
    const cavityC = lagged(outsideC, 20, 45);
    expect(film.job.cavityStartC).toBeCloseTo(cavityC, 6);
    expect(film.panelStartC).toBeCloseTo((8 * 20 + 6 * cavityC) / 14, 6);
  });

  it('shares the panel with moving air by its own coefficient', () => {
    const bays = baysOf({ 'bay-1': steadyAir(20) }, ['bay-1']);
    const film = questionOf({ rolledInAt: MIXED_AT, outdoorTemperatureC: -1 }, bays);
    expect(film.job.cavityStartC).toBe(-1);
    expect(film.panelStartC).toBeCloseTo((15 * 20 - 6) / 21, 9);
  });

  it.each([
    ['rolled in after mixing', { rolledInAt: minute(1), outdoorTemperatureC: -5 }],
    ['came from nobody knows what cold', { rolledInAt: minute(-45) }],
    ['has stood there all along', { outdoorTemperatureC: -5 }],
  ])('is the bay’s air for a car that %s', (_, state) => {
    expect(questionOf(state).job.cavityStartC).toBeCloseTo(20, 9);
  });
});

describe('lamps', () => {
  const spell = (fromMin: number, untilMin: number, fluxWPerM2: number) => ({
    lampId: `lamp-${fluxWPerM2}`,
    fromAt: minute(fromMin),
    untilAt: minute(untilMin),
    distanceCm: null,
    fluxWPerM2,
  });

  it.each([
    ['are none', [], []],
    ['burn once', [spell(5, 15, 900)], [[5, 15, 900]]],
    [
      'burn twice',
      [spell(5, 15, 900), spell(20, 30, 300)],
      [
        [5, 15, 900],
        [20, 30, 300],
      ],
    ],
    [
      'overlap and add up',
      [spell(5, 15, 900), spell(10, 20, 300)],
      [
        [5, 10, 900],
        [10, 15, 1200],
        [15, 20, 300],
      ],
    ],
    ['burn side by side', [spell(5, 15, 900), spell(5, 15, 300)], [[5, 15, 1200]]],
    [
      'take turns',
      [spell(5, 15, 900), spell(15, 20, 300)],
      [
        [5, 15, 900],
        [15, 20, 300],
      ],
    ],
    ['were on before mixing', [spell(-10, 10, 900)], [[0, 10, 900]]],
    ['were off before mixing', [spell(-10, 0, 900)], []],
    ['give no heat', [spell(5, 15, 0)], []],
  ])('that %s are cut into spells of one flux', (_, lamps, spells) => {
    expect(questionOf({ lamps }).job.lampMinWPerM2).toEqual(spells);
  });
});
