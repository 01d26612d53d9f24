import { describe, expect, it } from 'vitest';
import type { BatchCommandWire } from '../../../server/contract/index.ts';
import { type Memory, remember, viewFrom } from '../../../sensors-sim/diary/oldHand.ts';
import type { Act } from '../../../sensors-sim/people/crew.ts';
import { startPlay, stepPlay } from '../../../sensors-sim/play.ts';
import { coldMorning } from '../../../sensors-sim/scenarios/coldMorning.ts';
import { at } from '../playDay.ts';

const nowAt = at('2026-01-12T07:00:00Z');
const key = 'KS-0112-01/0';
const start: Act = {
  key,
  at: nowAt,
  kind: 'start',
  body: { cardId: 'body-filler', panel: 'Sill', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' },
};
const act = (body: BatchCommandWire): Act => ({
  key,
  at: nowAt,
  kind: 'command',
  body: { ...body, at: new Date(nowAt).toISOString() },
});
const after = (...bodies: BatchCommandWire[]): Memory => remember(new Map(), [start, ...bodies.map(act)]);

describe('what an old hand remembers of a batch', () => {
  it.each([
    ['nothing at first', [], { bayId: 'bay-1', spreadAt: null, lamps: [], isSanding: false }],
    ['that it was spread', [{ type: 'markSpread' }], { spreadAt: '2026-01-12T07:00:00.000Z' }],
    ['that it is being sanded', [{ type: 'recordCheck', outcome: 'powders' }], { isSanding: true }],
    ['that it gummed', [{ type: 'recordCheck', outcome: 'gums' }], { isSanding: false }],
    ['where it was pushed', [{ type: 'moveToBay', bayId: 'bay-2' }], { bayId: 'bay-2' }],
    [
      'until when a lamp shines',
      [{ type: 'switchLamp', lampId: 'lamp-1', forMin: 6, distanceCm: 90 }],
      { lamps: [{ lampId: 'lamp-1', untilAt: '2026-01-12T07:06:00.000Z', distanceCm: 90 }] },
    ],
  ] as const)('is %s', (_, bodies, known) => {
    expect(after(...bodies).get(key)).toMatchObject(known);
  });

  it.each(['finishSanding', 'scrap'] as const)('is gone after %s', (type) => {
    expect(after({ type }).size).toBe(0);
  });

  it('stays the same thing while nobody does anything', () => {
    const memory = after();
    expect(remember(memory, [])).toBe(memory);
  });
});

describe('what an old hand sees', () => {
  it('is a mix that is wet until it gels, and no time to test it', () => {
    const started = startPlay({
      scenario: coldMorning,
      seed: 7,
      timeZone: 'UTC',
      nowAt: at('2026-01-12T06:34:00Z'),
      shown: [],
      newestReadingAt: null,
    });
    let { play } = started;
    let memory = remember(new Map(), started.acts);
    const stages: string[] = [];
    const youngest = [...memory.keys()].at(-1) ?? '';
    for (let step = 0; step < 6 * 15; step += 1) {
      const view = viewFrom(memory, play.crew);
      const seen = view.batches.get(youngest);
      stages.push(seen?.stage ?? 'gone');
      expect(seen?.estimate).toBeNull();
      const next = stepPlay(play, view);
      play = next.play;
      memory = remember(memory, next.acts);
    }
    expect(stages[0]).toBe('wet');
    expect(stages.at(-1)).toBe('kicked');
    expect(stages.lastIndexOf('wet')).toBe(stages.indexOf('kicked') - 1);
  });
});
