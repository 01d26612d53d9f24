// Warnings of the whole shop: hold times both ways, withdrawal, folding.
import { describe, expect, it } from 'vitest';
import { AUDIENCES, HOLDS } from '../../server/domain/alertRules.ts';
import type { Estimate } from '../../server/domain/facts.ts';
import {
  type AlertWorld,
  does,
  estimate,
  look,
  lookUntil,
  mix,
  openWorld,
  see,
  speak,
} from '../support/alertWorld.ts';
import { minute } from '../support/domainFixtures.ts';

/** A shop with some batches mixed at minute 0 and spread at once. */
function shopWith(...names: readonly string[]): AlertWorld {
  const world = openWorld();
  for (const name of names) {
    mix(world, name);
    does(world, name, ['BatchSpread', {}]);
  }
  look(world);
  return world;
}

/** The window of a batch as it would be so many minutes later. */
function later(byMin: number): Partial<Estimate> {
  return { p50At: minute(20 + byMin), testFromAt: minute(22 + byMin), p90At: minute(25 + byMin) };
}

describe('a window that moves later', () => {
  it.each([
    ['by 20 % of its own 20 minutes', 4, []],
    ['by more than that', 4.1, ['2.5 + a.slowing.1']],
  ] as const)('%s is told once it has lasted two minutes', (_, byMin, said) => {
    const world = shopWith('a');
    world.nowMin = 0.5;
    estimate(world, 'a', later(byMin));
    look(world);
    expect(lookUntil(world, 5)).toEqual(said);
  });

  it('by less than 3 minutes is not told, whatever part of a short window that is', () => {
    for (const [byMin, saidCount] of [
      [3, 0],
      [3.1, 1],
    ] as const) {
      const world = openWorld();
      mix(world, 'a');
      estimate(world, 'a', { p50At: minute(8), testFromAt: minute(15) });
      look(world);
      estimate(world, 'a', { p50At: minute(8 + byMin), testFromAt: minute(15) });
      expect(lookUntil(world, 4).length).toBe(saidCount);
    }
  });

  it('for less than two minutes is noise', () => {
    const world = shopWith('a');
    for (const byMin of [9, 9, 9, 0, 9, 9, 9, 0, 9, 9, 9, 0]) {
      estimate(world, 'a', later(byMin));
      expect(lookUntil(world, world.nowMin + 0.5)).toEqual([]);
    }
  });

  it('says from when to when, and goes once it has been back for five minutes', () => {
    const world = shopWith('a');
    estimate(world, 'a', later(6));
    expect(lookUntil(world, 3)).toEqual(['2.5 + a.slowing.1']);
    expect(world.facts.findLast(({ type }) => type === 'AlertRaised')?.body).toMatchObject({
      movedFromAt: minute(20),
      movedToAt: minute(26),
    });
    estimate(world, 'a', later(1));
    expect(lookUntil(world, 9)).toEqual(['8.5 - a.slowing.1']);
  });

  it('and is back for less than five minutes stays one line', () => {
    const world = shopWith('a');
    estimate(world, 'a', later(6));
    expect(lookUntil(world, 3)).toHaveLength(1);
    for (const byMin of [0, 6, 0, 6]) {
      estimate(world, 'a', later(byMin));
      expect(lookUntil(world, world.nowMin + 4)).toEqual([]);
    }
  });

  it('is told anew when it moves as far again, and in the place of what was told', () => {
    const world = shopWith('a');
    estimate(world, 'a', later(6));
    lookUntil(world, 3);
    estimate(world, 'a', later(10));
    expect(lookUntil(world, 8)).toEqual([]);
    estimate(world, 'a', later(12));
    expect(lookUntil(world, 11)).toEqual(['10.5 - a.slowing.1', '10.5 + a.slowing.2']);
    expect(lookUntil(world, 18)).toEqual([]);
    expect(world.facts.findLast(({ type }) => type === 'AlertRaised')?.body).toMatchObject({
      movedFromAt: minute(20),
      movedToAt: minute(32),
    });
  });

  it('is told no third time within an hour', () => {
    const world = shopWith('a');
    const raised: string[] = [];
    for (const byMin of [10, 25, 50, 90, 160]) {
      estimate(world, 'a', { ...later(byMin), kickedAt: minute(6) });
      raised.push(...lookUntil(world, world.nowMin + 6).filter((line) => line.includes('+')));
    }
    expect(raised).toEqual(['2.5 + a.slowing.1', '8.5 + a.slowing.2']);
    expect(lookUntil(world, 70).filter((line) => line.includes('+'))).toEqual(['62.5 + a.slowing.3']);
  });

  it('to no time at all is told too', () => {
    const world = shopWith('a');
    estimate(world, 'a', { p10At: null, p50At: null, p90At: null, testFromAt: null, notes: ['stalled'] });
    expect(lookUntil(world, 3)).toEqual(['2.5 + a.slowing.1']);
    expect(world.facts.findLast(({ type }) => type === 'AlertRaised')?.body).toMatchObject({
      movedToAt: null,
    });
    expect(lookUntil(world, 30)).toEqual([]);
  });

  it('is measured from the first window there is', () => {
    const world = openWorld();
    mix(world, 'a');
    estimate(world, 'a', { p10At: null, p50At: null, p90At: null, testFromAt: null, notes: ['no-air'] });
    look(world);
    world.nowMin = 1;
    estimate(world, 'a', later(10));
    expect(lookUntil(world, 6).filter((line) => line.includes('slowing'))).toEqual([]);
  });

  it.each([
    ['a move', 'BatchMoved', { bayId: 'bay-2' }],
    ['"gums"', 'CheckRecorded', { outcome: 'gums', firstTry: null }],
  ] as const)('by %s is no news: whoever tapped saw it', (_, type, body) => {
    const world = shopWith('a');
    world.nowMin = 7;
    look(world);
    does(world, 'a', [type, body]);
    estimate(world, 'a', later(15));
    expect(lookUntil(world, 20)).toEqual([]);
    estimate(world, 'a', later(30));
    expect(lookUntil(world, 23)).toEqual(['22.5 + a.slowing.1']);
  });

  it('ends at once with the act that brings it back, and when it is time to test', () => {
    const world = shopWith('a', 'b');
    for (const name of ['a', 'b']) estimate(world, name, later(6));
    expect(lookUntil(world, 3)).toEqual(['2.5 + a.slowing.1', '2.5 + b.slowing.1']);
    does(world, 'a', ['LampSwitched', { lampId: 'lamp-1', distanceCm: 80, forMin: 10, fluxWPerM2: 600 }]);
    estimate(world, 'a', later(-8));
    expect(look(world)).toEqual(['- a.slowing.1']);
    expect(lookUntil(world, 28).filter((line) => line.includes(' b.'))).toEqual([
      '28 + b.test.1',
      '28 - b.slowing.1',
    ]);
  });
});

describe('a hold of the estimate', () => {
  it.each([
    ['condensation-hold', 'condensation', 0.5, 5.5],
    ['too-cold', 'tooCold', 2, 12.5],
    ['too-hot', 'tooHot', 0.5, 2.5],
  ] as const)('%s is told after its hold, and goes after another', (note, kind, raiseMin, goneMin) => {
    const world = openWorld();
    mix(world, 'a');
    estimate(world, 'a', { notes: [note], kickedAt: minute(60), testFromAt: minute(80), p50At: minute(70) });
    look(world);
    expect(lookUntil(world, 3)).toEqual([`${raiseMin} + a.${kind}.1`]);
    expect(HOLDS[kind].raiseMin).toBe(raiseMin);
    estimate(world, 'a', { notes: [], kickedAt: minute(60), testFromAt: minute(80), p50At: minute(70) });
    look(world);
    expect(lookUntil(world, 30)).toEqual([`${3 + HOLDS[kind].withdrawMin} - a.${kind}.1`]);
    expect(3 + HOLDS[kind].withdrawMin).toBeGreaterThanOrEqual(goneMin - 0.5);
  });

  it('of damp ends when the mix is spread all the same, also where it was only lingering', () => {
    for (const notes of [['condensation-hold'], []] as const) {
      const world = openWorld();
      mix(world, 'a');
      estimate(world, 'a', { notes: ['condensation-hold'] });
      look(world);
      lookUntil(world, 1);
      estimate(world, 'a', { notes: [...notes] });
      look(world);
      does(world, 'a', ['BatchSpread', {}]);
      expect(look(world)).toEqual(['- a.condensation.1']);
    }
  });

  it('ends with its batch', () => {
    const world = shopWith('a');
    estimate(world, 'a', { notes: ['too-cold'] });
    lookUntil(world, 3);
    does(world, 'a', ['BatchScrapped', {}]);
    expect(look(world)).toEqual(['- a.tooCold.1']);
    expect(lookUntil(world, 30)).toEqual([]);
  });
});

describe('a test that nobody answers', () => {
  it('waits 15 minutes for its warning, which ends with the answer', () => {
    const world = shopWith('a');
    expect(lookUntil(world, 40)).toEqual(['22 + a.test.1', '37 + a.waiting.1']);
    does(world, 'a', ['SandingStarted', {}]);
    expect(look(world)).toEqual(['- a.test.1', '- a.waiting.1']);
  });

  it('calls no second time within a minute of "gums" and its undoing', () => {
    const world = shopWith('a');
    lookUntil(world, 22);
    world.nowMin = 22.2;
    does(world, 'a', ['CheckRecorded', { outcome: 'gums', firstTry: null }]);
    estimate(world, 'a', { testFromAt: minute(22.3) });
    expect(look(world)).toEqual(['- a.test.1']);
    world.nowMin = 22.5;
    expect(look(world)).toEqual([]);
    world.nowMin = 23;
    expect(look(world)).toEqual(['+ a.test.2']);
  });
});

describe('a mix about to kick', () => {
  it('stays called while its time moves later by up to a minute', () => {
    const world = openWorld();
    mix(world, 'a');
    expect(lookUntil(world, 4.5)).toEqual(['4.5 + a.spreadBy.1']);
    estimate(world, 'a', { kickedAt: minute(7) });
    expect(look(world)).toEqual([]);
    estimate(world, 'a', { kickedAt: minute(7.1) });
    expect(look(world)).toEqual(['- a.spreadBy.1']);
    estimate(world, 'a', { kickedAt: minute(6) });
    expect(lookUntil(world, 5)).toEqual([]);
    expect(lookUntil(world, 5.5)).toEqual(['5.5 + a.spreadBy.2']);
  });
});

describe('a sensor', () => {
  it('that says nothing for 10 minutes is quiet, once, and back with its first reading', () => {
    const world = openWorld();
    speak(world, 's1');
    expect(lookUntil(world, 9.5)).toEqual([]);
    expect(lookUntil(world, 60)).toEqual(['10 SensorQuiet s1', '10 + shop.sensorQuiet.1: s1']);
    speak(world, 's1');
    expect(look(world)).toEqual(['SensorSeen s1', '- shop.sensorQuiet.1']);
    const said: string[] = [];
    while (world.nowMin < 80) {
      said.push(...lookUntil(world, world.nowMin + 1));
      speak(world, 's1');
    }
    expect(said).toEqual(['61 + shop.sensorBack.1: s1', '71 - shop.sensorBack.1']);
  });

  it('that has not spoken since the program began is quiet from then on, and its back is a reading', () => {
    const world = openWorld();
    world.sensors.set('s1', { sensorId: 's1', bayId: 'bay-1', heardAt: minute(0), isRead: false });
    expect(lookUntil(world, 11)).toHaveLength(2);
    // Another start: silence is counted anew, but it goes on.
    world.sensors.set('s1', { sensorId: 's1', bayId: 'bay-1', heardAt: minute(11), isRead: false });
    expect(lookUntil(world, 40)).toEqual([]);
    speak(world, 's1');
    expect(look(world)).toContain('SensorSeen s1');
  });

  it('that is taken off the shop is no more to be spoken of', () => {
    const world = openWorld();
    speak(world, 's1');
    lookUntil(world, 11);
    world.sensors.clear();
    expect(look(world)).toEqual(['- shop.sensorQuiet.1']);
  });

  it('that comes and goes is told twice an hour at most', () => {
    const world = openWorld();
    const said: string[] = [];
    for (let round = 0; round < 10; round += 1) {
      speak(world, 's1');
      said.push(...lookUntil(world, world.nowMin + 12));
    }
    expect(
      said.filter((line) => line.includes('+ shop.sensorQuiet')).map((line) => line.split(' ')[0]),
    ).toEqual(['10', '22', '70', '82']);
  });

  it('that falls silent again while its "back" is shown takes it away', () => {
    const world = openWorld();
    speak(world, 's1');
    lookUntil(world, 11);
    speak(world, 's1');
    look(world);
    expect(lookUntil(world, 12)).toContain('12 + shop.sensorBack.1: s1');
    expect(lookUntil(world, 21)).toEqual([
      '21 SensorQuiet s1',
      '21 + shop.sensorQuiet.2: s1',
      '21 - shop.sensorBack.1',
    ]);
  });
});

describe('a storm', () => {
  /** Sensors that speak once a minute, each at a second of its own. */
  function shopOfSensors(sensorsCount: number): AlertWorld {
    const world = openWorld();
    for (let index = 0; index < sensorsCount; index += 1) {
      world.nowMin = index / sensorsCount;
      speak(world, `s${index}`);
    }
    world.nowMin = 1;
    look(world);
    return world;
  }

  it('of sensors is one line, and so is its end', () => {
    const world = shopOfSensors(8);
    const raised = lookUntil(world, 60, 1 / 8).filter((line) => line.includes('+'));
    expect(raised).toEqual(['10.875 + shop.sensorQuiet.1: s0 s1 s2 s3 s4 s5 s6 s7']);
    const said: string[] = [];
    for (let index = 0; index < 8; index += 1) {
      speak(world, `s${index}`);
      said.push(...lookUntil(world, world.nowMin + 1 / 8, 1 / 8));
    }
    while (world.nowMin < 75) {
      said.push(...lookUntil(world, world.nowMin + 1));
      speak(world, ...world.sensors.keys());
    }
    expect(said.filter((line) => line.includes('- shop.sensorQuiet'))).toEqual(['61 - shop.sensorQuiet.1']);
    expect(said.filter((line) => line.includes('+'))).toEqual([
      '62 + shop.sensorBack.1: s0 s1 s2 s3 s4 s5 s6 s7',
    ]);
    expect(said.at(-1)).toMatch(/- shop.sensorBack.1$/);
  });

  it('of sensors that speak seldom takes in what was told before', () => {
    const world = openWorld();
    for (const sensorId of ['s0', 's1', 's2', 's3']) {
      speak(world, sensorId);
      world.nowMin += 3;
    }
    expect(lookUntil(world, 40).filter((line) => line.includes('shop'))).toEqual([
      '12.5 + shop.sensorQuiet.1: s0',
      '13 - shop.sensorQuiet.1',
      '13 + shop.sensorQuiet.2: s0 s1',
      '16 ~ shop.sensorQuiet.2: s0 s1 s2',
      '19 ~ shop.sensorQuiet.2: s0 s1 s2 s3',
    ]);
  });

  it('of one door is one line of panels that grows and shrinks in silence', () => {
    const world = shopWith('a', 'b', 'c', 'd');
    for (const name of ['a', 'b', 'c']) estimate(world, name, later(9));
    expect(lookUntil(world, 4)).toEqual(['2.5 + shop.slowing.1: a b c']);
    estimate(world, 'd', later(9));
    expect(lookUntil(world, 7)).toEqual(['6.5 ~ shop.slowing.1: a b c d']);
    does(world, 'b', ['BatchScrapped', {}]);
    expect(look(world)).toEqual(['~ shop.slowing.1: a c d']);
    for (const name of ['a', 'c', 'd']) estimate(world, name);
    expect(lookUntil(world, 14)).toEqual(['12.5 - shop.slowing.1']);
  });

  it('takes in the lines of the last ten minutes, but none that somebody has seen or that is older', () => {
    const world = shopWith('a', 'b', 'c', 'd', 'e');
    const slow = (name: string): void => estimate(world, name, { ...later(40), kickedAt: minute(6) });
    slow('a');
    lookUntil(world, 4);
    slow('b');
    expect(lookUntil(world, 8)).toEqual(['6.5 + b.slowing.1']);
    does(world, 'b', ['AlertAcknowledged', { alertId: 'b.slowing.1' }]);
    world.nowMin = 11;
    slow('c');
    look(world);
    expect(lookUntil(world, 14)).toEqual(['13 + c.slowing.1']);
    slow('d');
    look(world);
    expect(lookUntil(world, 17)).toEqual(['16 + d.slowing.1']);
    slow('e');
    look(world);
    expect(lookUntil(world, 20)).toEqual([
      '19 - c.slowing.1',
      '19 - d.slowing.1',
      '19 + shop.slowing.1: c d e',
    ]);
  });

  it('that was seen takes in no more: what comes then is told again, and no sooner than a minute later', () => {
    const world = openWorld();
    speak(world, 's1', 's2', 's3', 's4');
    lookUntil(world, 4.5);
    speak(world, 's3', 's4');
    world.nowMin = 10;
    expect(look(world)).toEqual(['SensorQuiet s1', 'SensorQuiet s2', '+ shop.sensorQuiet.1: s1 s2']);
    see(world, 'shop.sensorQuiet.1');
    expect(lookUntil(world, 16).filter((line) => line.includes('+'))).toEqual([
      '14.5 + shop.sensorQuiet.2: s3 s4',
    ]);
  });

  it('right after one that was seen waits out the minute', () => {
    const world = openWorld();
    for (const [sensorId, atMin] of [
      ['s1', 0],
      ['s2', 0],
      ['s3', 0.2],
      ['s4', 0.2],
    ] as const) {
      world.nowMin = atMin;
      speak(world, sensorId);
    }
    // Nobody looked before: all are due, and two of them were told and seen at once.
    world.nowMin = 10.1;
    const [s3, s4] = ['s3', 's4'].map((sensorId) => world.sensors.get(sensorId));
    world.sensors.delete('s3');
    world.sensors.delete('s4');
    expect(look(world)).toContain('+ shop.sensorQuiet.1: s1 s2');
    see(world, 'shop.sensorQuiet.1');
    for (const sensor of [s3, s4]) if (sensor !== undefined) world.sensors.set(sensor.sensorId, sensor);
    expect(lookUntil(world, 11, 0.1).filter((line) => line.includes('+'))).toEqual([]);
    world.nowMin = 11.1;
    expect(look(world)).toEqual(['+ shop.sensorQuiet.2: s3 s4']);
  });

  it('never hides a test or a mix about to kick', () => {
    const world = openWorld();
    for (const name of ['a', 'b', 'c', 'd']) mix(world, name);
    const raised = lookUntil(world, 23).filter((line) => line.includes('+'));
    expect(raised).toEqual([
      ...['a', 'b', 'c', 'd'].map((name) => `4.5 + ${name}.spreadBy.1`),
      ...['a', 'b', 'c', 'd'].map((name) => `22 + ${name}.test.1`),
    ]);
  });

  it('of tests that nobody answers is one line for the foreman', () => {
    const world = shopWith('a', 'b', 'c');
    expect(lookUntil(world, 38).filter((line) => line.includes('waiting'))).toEqual([
      '37 + shop.waiting.1: a b c',
    ]);
  });

  it('that needs a line to be told anew takes it in', () => {
    const world = shopWith('a', 'b', 'c');
    estimate(world, 'a', later(6));
    lookUntil(world, 3);
    estimate(world, 'a', later(12));
    lookUntil(world, 4);
    for (const name of ['b', 'c']) estimate(world, name, later(9));
    // a's second line and the first two of b and c are three at once.
    expect(lookUntil(world, 8)).toEqual(['6.5 - a.slowing.1', '6.5 + shop.slowing.1: a b c']);
  });
});

describe('who is told', () => {
  it('is as the design has it', () => {
    // Design PRODUCT §4's table.
    expect(AUDIENCES).toEqual({
      spreadBy: ['bench'],
      test: ['bench'],
      waiting: ['floor'],
      slowing: ['bench', 'floor'],
      condensation: ['bench', 'floor'],
      tooCold: ['bench', 'floor'],
      tooHot: ['bench', 'floor'],
      sensorQuiet: ['floor', 'setup'],
      sensorBack: ['floor', 'setup'],
    });
  });
});
