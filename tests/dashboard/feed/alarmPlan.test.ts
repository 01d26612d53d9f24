// When a device rings: once for what falls due together, each kind once a minute, and nothing is lost in between.
import { describe, expect, it } from 'vitest';
import { planRings, type Ring, type RingMemory, SILENCE } from '../../../dashboard/feed/alarmPlan.ts';
import { ALERT_KINDS, type AlertKind } from '../../../server/contract/index.ts';

interface Step {
  readonly atS: number;
  readonly fresh?: readonly (readonly [string, AlertKind])[];
  readonly gone?: readonly string[];
}

/** Plays steps and tells what rang at each, and when the plan would be asked again. */
function play(steps: readonly Step[]): { rings: readonly Ring[][]; nextS: number | null } {
  let memory: RingMemory = SILENCE;
  let nextS: number | null = null;
  const open = new Set<string>();
  const rings = steps.map(({ atS, fresh = [], gone = [] }) => {
    for (const [id] of fresh) open.add(id);
    for (const id of gone) open.delete(id);
    const asked = fresh.map(([id, kind]) => ({ id, kind }));
    const plan = planRings(memory, { fresh: asked, openIds: open, nowMs: atS * 1000 });
    memory = plan.memory;
    nextS = plan.nextMs === null ? null : plan.nextMs / 1000;
    return [...plan.rings];
  });
  return { rings, nextS };
}

describe('an alarm', () => {
  it.each(ALERT_KINDS)('of kind %s has a sound, but for good news', (kind) => {
    const { rings } = play([{ atS: 0, fresh: [['a', kind]] }]);
    const sound = kind === 'test' || kind === 'spreadBy' ? kind : 'warning';
    expect(rings).toEqual([kind === 'sensorBack' ? [] : [sound]]);
  });

  it('rings once for tests that fall due together, whether in one message or in two', () => {
    const { rings, nextS } = play([
      {
        atS: 0,
        fresh: [
          ['a', 'test'],
          ['b', 'test'],
        ],
      },
      { atS: 2, fresh: [['c', 'test']] },
      { atS: 61 },
    ]);
    expect(rings).toEqual([['test'], [], []]);
    expect(nextS).toBeNull();
  });

  it('holds one that comes later in the minute until it is over', () => {
    const steps = [
      { atS: 0, fresh: [['a', 'test']] },
      {
        atS: 30,
        fresh: [
          ['b', 'test'],
          ['c', 'test'],
        ],
      },
    ] as const;
    expect(play(steps)).toEqual({ rings: [['test'], []], nextS: 60 });
    expect(play([...steps, { atS: 60 }])).toEqual({ rings: [['test'], [], ['test']], nextS: null });
  });

  it('forgets what was held when it is over or seen before its minute is', () => {
    const { rings } = play([
      { atS: 0, fresh: [['a', 'test']] },
      { atS: 30, fresh: [['b', 'test']] },
      { atS: 40, gone: ['b'] },
      { atS: 60 },
    ]);
    expect(rings).toEqual([['test'], [], [], []]);
  });

  it('rings for a mix that spoils beside a test, and for it first', () => {
    const { rings } = play([
      { atS: 0, fresh: [['a', 'test']] },
      { atS: 5, fresh: [['b', 'spreadBy']] },
      {
        atS: 100,
        fresh: [
          ['c', 'slowing'],
          ['d', 'test'],
          ['e', 'spreadBy'],
        ],
      },
    ]);
    expect(rings).toEqual([['test'], ['spreadBy'], ['spreadBy', 'test', 'warning']]);
  });

  it('warns of several things in a minute with one sound', () => {
    const { rings, nextS } = play([
      { atS: 0, fresh: [['a', 'tooCold']] },
      { atS: 20, fresh: [['b', 'slowing']] },
      { atS: 25, fresh: [['c', 'sensorQuiet']] },
    ]);
    expect(rings).toEqual([['warning'], [], []]);
    expect(nextS).toBe(60);
  });
});
