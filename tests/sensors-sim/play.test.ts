import { describe, expect, it } from 'vitest';
import { isPowdering } from '../../sensors-sim/film/batchTruth.ts';
import { stepPlay, startPlay } from '../../sensors-sim/play.ts';
import { coldMorning } from '../../sensors-sim/scenarios/coldMorning.ts';
import { makeFakeServer } from './fakeServer.ts';
import { at, playFor } from './playDay.ts';

const openedAt = at('2026-01-12T06:40:00Z');

describe('a working day on a plain timer', () => {
  const server = makeFakeServer();
  const openCounts: number[] = [];
  const handsTwice: string[] = [];
  const day = playFor(server, { scenario: coldMorning, fromAt: openedAt, forMin: 12 * 60 }, ({ crew }) => {
    openCounts.push(crew.batches.length);
    const busy = crew.tasks.map(({ initials }) => initials);
    if (new Set(busy).size !== busy.length) handsTwice.push(busy.join());
  });
  const batches = [...server.batches.values()];
  const commands = server.acts.flatMap((act) => (act.kind === 'command' ? [act.body] : []));

  it('has a wet, a kicked and soon a testable batch when a visitor comes', () => {
    const started = playFor(makeFakeServer(), { scenario: coldMorning, fromAt: openedAt, forMin: 4 });
    expect(started.play.crew.batches.map(({ bayId }) => bayId).toSorted()).toEqual([
      'bay-1',
      'bay-2',
      'booth',
    ]);
  });

  it('does only what a stage allows', () => {
    expect(day.refusals).toEqual([]);
  });

  it('keeps the number of open batches small and never falls idle before noon', () => {
    expect(Math.max(...openCounts)).toBeLessThanOrEqual(coldMorning.openBatchesMax);
    expect(Math.min(...openCounts.slice(0, 5 * 360))).toBeGreaterThanOrEqual(1);
  });

  it('gives each person one thing at a time', () => {
    expect(handsTwice).toEqual([]);
  });

  it('brings putty over filler, a lamp, a move and one scrapped mix', () => {
    expect(batches.some(({ cardId, underlayMm }) => cardId === 'finishing-putty' && underlayMm > 0)).toBe(
      true,
    );
    expect(commands.filter(({ type }) => type === 'switchLamp')).toHaveLength(1);
    expect(commands.filter(({ type }) => type === 'moveToBay')).toHaveLength(1);
    expect(batches.filter(({ stage }) => stage === 'scrapped')).toHaveLength(1);
  });

  it('gives a moved car its next coat where it was moved to', () => {
    const moved = batches.filter(
      ({ panel, repairOrder }) => panel === 'Roof' && repairOrder?.endsWith('-06'),
    );
    expect(moved.map(({ bayId }) => bayId)).toEqual(['booth', 'booth']);
  });

  it('mixes a scrapped coat again with a good mix', () => {
    const scrapped = batches.find(({ stage }) => stage === 'scrapped');
    const again = batches.find(
      ({ repairOrder, cardId, stage }) =>
        repairOrder === scrapped?.repairOrder && cardId === scrapped?.cardId && stage === 'sanded',
    );
    expect(again).toBeDefined();
  });

  it('meets gums and powders, and now and then says nothing about gums', () => {
    const outcomes = commands.flatMap((body) => (body.type === 'recordCheck' ? [body] : []));
    expect(outcomes.filter(({ outcome }) => outcome === 'gums').length).toBeGreaterThan(3);
    expect(outcomes.filter(({ firstTry }) => firstTry === true).length).toBeGreaterThan(10);
    const silent = batches.filter(
      ({ checks }) => checks.length === 1 && checks[0]?.outcome === 'powders' && checks[0].firstTry === false,
    );
    expect(silent.length).toBeGreaterThan(0);
  });

  it('spreads each mix within minutes', () => {
    for (const { mixedAt, spreadAt } of batches) {
      const spreadMin = (Date.parse(spreadAt ?? '') - Date.parse(mixedAt)) / 60_000;
      expect(spreadMin).toBeGreaterThan(1.5);
      expect(spreadMin).toBeLessThan(4);
    }
  });

  it('works in the shop’s hours only', () => {
    const hours = server.acts.map((act) => new Date(act.at).toISOString().slice(11, 16));
    expect(hours.every((hour) => hour >= '06:30' && hour < '17:45')).toBe(true);
  });

  it('speaks each half minute for each sensor of the shop, and rarely for the spare one', () => {
    const counts = (sensorId: string): number =>
      day.readings.filter((reading) => reading.sensorId === sensorId && reading.at > openedAt).length;
    expect(['bay-1-air', 'bay-2-air', 'booth-air', 'yard-air'].map(counts)).toEqual([1440, 1440, 1440, 1440]);
    expect(counts('spare-7')).toBe(36);
  });
});

describe('the true times of a day', () => {
  const server = makeFakeServer();
  const firstPowdered = new Map<string, number>();
  const { truths } = playFor(
    server,
    { scenario: coldMorning, fromAt: openedAt, forMin: 24 * 60 },
    ({ shop, crew }) => {
      for (const { key, truth } of [...crew.batches, ...crew.silent]) {
        if (isPowdering(truth) && !firstPowdered.has(key)) firstPowdered.set(key, shop.at);
      }
    },
  );
  const readyAts = new Map(truths.map(({ batchKey, readyAt }) => [batchKey, readyAt]));
  const closed = [...server.batches].filter(([, { stage }]) => stage === 'sanded' || stage === 'scrapped');

  it('are told once for every batch that was closed', () => {
    expect(readyAts.size).toBe(truths.length);
    expect(closed.length).toBeGreaterThan(25);
    expect(closed.filter(([key]) => !readyAts.has(key))).toEqual([]);
  });

  it('are the first instants at which the films powder without a thumb', () => {
    for (const [key, readyAt] of firstPowdered) expect(readyAts.get(key)).toBe(readyAt);
  });

  it('come also for a mix that was scrapped before, as late as it would have been', () => {
    const scrapped = closed.filter(([, { stage }]) => stage === 'scrapped').map(([key]) => key);
    const scraps = server.acts.flatMap((act) =>
      act.kind === 'command' && act.body.type === 'scrap' ? [act] : [],
    );
    expect(scrapped.length).toBeGreaterThan(0);
    for (const { key, at: scrappedAt } of scraps) expect(readyAts.get(key)).toBeGreaterThan(scrappedAt);
  });

  it('are given up after twelve hours for a film that never gets there', () => {
    const dead = {
      ...coldMorning,
      products: coldMorning.products.map((product) => ({ ...product, sandDoseMin: 1e9 })),
    };
    const played = playFor(makeFakeServer(), { scenario: dead, fromAt: openedAt, forMin: 13 * 60 });
    expect(played.truths.length).toBeGreaterThan(2);
    expect(played.truths.every(({ readyAt }) => readyAt === null)).toBe(true);
  });
});

describe('a day off', () => {
  const closedOn = { ...coldMorning, hours: { ...coldMorning.hours, daysOff: ['Mon'] as const } };

  it('has no cars, no open doors and the heating of the night', () => {
    const server = makeFakeServer();
    const { play } = playFor(server, { scenario: closedOn, fromAt: openedAt, forMin: 6 * 60 });
    expect(server.acts).toEqual([]);
    expect(play.plan).toMatchObject({ jobs: [], doors: [], isOpen: false });
    expect(play.shop.rooms.get('bay-1')?.airC).toBeLessThan(11);
  });
});

describe('one seed and one clock', () => {
  const play = (seed: number) => {
    const server = makeFakeServer();
    const { readings } = playFor(server, { scenario: coldMorning, fromAt: openedAt, forMin: 120, seed });
    return { readings, acts: server.acts };
  };

  it('give the same day again', () => {
    expect(play(7)).toEqual(play(7));
  });

  it('give another day with another seed', () => {
    expect(play(8).acts).not.toEqual(play(7).acts);
  });
});

describe('a first start', () => {
  const inputs = { scenario: coldMorning, seed: 7, timeZone: 'UTC', nowAt: openedAt, shown: [] };

  it('tells the air of the last six hours, oldest first', () => {
    const { readings } = startPlay({ ...inputs, newestReadingAt: null });
    const bay = readings.filter(({ sensorId }) => sensorId === 'bay-1-air');
    expect(bay.length).toBeGreaterThan(180);
    expect(bay[0]?.at).toBeGreaterThanOrEqual(at('2026-01-12T00:40:00Z'));
    expect(bay.map((reading) => reading.at)).toEqual(
      bay.map((reading) => reading.at).toSorted((a, b) => a - b),
    );
    expect(bay.every((reading) => reading.at <= openedAt)).toBe(true);
  });

  it('tells only the air that a server has not heard yet', () => {
    const newestReadingAt = at('2026-01-12T06:30:00Z');
    const { readings } = startPlay({ ...inputs, newestReadingAt });
    expect(readings.every((reading) => reading.at > newestReadingAt)).toBe(true);
  });
});

describe('a restart', () => {
  const server = makeFakeServer();
  const nowAt = at('2026-01-12T07:20:00Z');
  const before = playFor(server, { scenario: coldMorning, fromAt: openedAt, forMin: 40 });
  const shown = [...server.view(nowAt).batches.values()];
  const again = startPlay({
    scenario: coldMorning,
    seed: 7,
    timeZone: 'UTC',
    nowAt,
    shown,
    newestReadingAt: nowAt,
  });

  it('takes up its own open batches and mixes none of them twice', () => {
    const keys = (play: typeof before.play): string[] => play.crew.batches.map(({ key }) => key).toSorted();
    expect(keys(again.play)).toEqual(keys(before.play));
    expect(again.acts).toEqual([]);
  });

  it('finds their films as ripe as they were', () => {
    for (const { key, truth } of again.play.crew.batches) {
      const known = before.play.crew.batches.find((one) => one.key === key);
      // Half a minute under a lamp, which both may have seen begin a step apart, is all the difference.
      expect(Math.abs(truth.edgeNow.doseMin / (known?.truth.edgeNow.doseMin ?? NaN) - 1)).toBeLessThan(0.05);
    }
  });

  it('leaves the batches of visitors alone, whatever they look like', () => {
    const visitors = shown.map((batch, index) => ({
      ...batch,
      id: `visitor ${index}`,
      mixedAt: new Date(Date.parse(batch.mixedAt) + 3456).toISOString(),
    }));
    const { play } = startPlay({
      scenario: coldMorning,
      seed: 7,
      timeZone: 'UTC',
      nowAt,
      shown: visitors,
      newestReadingAt: nowAt,
    });
    expect(play.crew.batches).toEqual([]);
  });
});

describe('what visitors do to a batch', () => {
  const server = makeFakeServer();
  const { play } = playFor(server, { scenario: coldMorning, fromAt: openedAt, forMin: 3 });
  const [batch] = play.crew.batches;
  const key = batch?.key ?? '';
  const shown = server.view(play.shop.at);

  it('is followed: a moved batch ripens in its new bay', () => {
    const moved = { ...shown.batches.get(key), bayId: 'booth' } as never;
    const next = stepPlay(play, { ...shown, batches: new Map([...shown.batches, [key, moved]]) });
    expect(next.play.crew.batches.find((one) => one.key === key)?.bayId).toBe('booth');
  });

  it('ends it: a batch that is gone from the screen is forgotten', () => {
    const known = stepPlay(play, shown).play;
    const rest = new Map([...shown.batches].filter(([each]) => each !== key));
    const gone = stepPlay(known, { ...shown, batches: rest }).play;
    expect(gone.crew.batches.some((one) => one.key === key)).toBe(false);
  });

  it('waits while an act is under way', () => {
    const known = stepPlay(play, shown).play;
    const rest = { batches: new Map(), pendingKeys: new Set([key]) };
    expect(stepPlay(known, rest).play.crew.batches.some((one) => one.key === key)).toBe(true);
  });
});

describe('a night', () => {
  it('is only air, and the next morning starts again', () => {
    const server = makeFakeServer();
    const fromAt = at('2026-01-12T18:00:00Z');
    const { play } = playFor(server, { scenario: coldMorning, fromAt, forMin: 13 * 60 });
    expect(play.day.date).toBe('2026-01-13');
    expect(server.acts.length).toBeGreaterThan(3);
    expect(server.acts.every((act) => act.at >= at('2026-01-13T06:30:00Z'))).toBe(true);
  });

  it('cools the bays to the night setting and no further', () => {
    const fromAt = at('2026-01-13T05:00:00Z');
    const { play } = playFor(makeFakeServer(), { scenario: coldMorning, fromAt, forMin: 60 });
    expect(play.shop.rooms.get('bay-1')?.airC).toBeGreaterThan(8);
    expect(play.shop.rooms.get('bay-1')?.airC).toBeLessThan(11);
    expect(play.crew.batches.every(({ truth }) => isPowdering(truth))).toBe(true);
  });
});
