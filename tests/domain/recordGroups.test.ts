// Which records somebody asked for, how they lie together, and pages that lose none and show none twice.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BatchState } from '../../server/domain/batch.ts';
import type { BatchId, Sequence } from '../../server/domain/facts.ts';
import {
  groupRecords,
  isAskedFor,
  newestFirst,
  pageGroups,
  type RecordFilter,
  type RecordNames,
  wasStarted,
} from '../../server/domain/recordGroups.ts';
import { makeDayReader } from '../../server/domain/localDay.ts';
import type { Instant } from '../../server/contract/index.ts';
import { fact, minute, place, stateAfter, stateOf, started } from '../support/domainFixtures.ts';
import { foldBatch } from '../../server/domain/evolveBatch.ts';

const names: RecordNames = {
  cardName: (cardId) => (cardId === 'body-filler' ? 'Body filler' : cardId),
  bayName: (bayId) => (bayId === 'bay-1' ? 'Bäy 1' : bayId),
  dayOf: makeDayReader('Europe/Madrid'),
};
const everything: RecordFilter = {
  from: null,
  to: null,
  cardId: null,
  by: null,
  bayId: null,
  stage: null,
  text: null,
};

/** Mixed at 07:00 UTC by AB in bay 1, moved to bay 2, tested by CD, closed by EF. */
const state: BatchState = stateAfter(
  started({ repairOrder: 'RO-4711' }),
  fact('BatchMoved', 5, { bayId: 'bay-2' }),
  fact('CheckRecorded', 20, { outcome: 'powders', firstTry: true }, { by: 'CD' }),
  fact('SandingStarted', 20, {}, { by: 'CD' }),
  fact('BatchSanded', 30, {}, { by: 'EF' }),
);

describe('a record', () => {
  it.each([
    [{}, true],
    [{ cardId: 'body-filler' }, true],
    [{ cardId: 'winter-filler' }, false],
    [{ bayId: 'bay-1' }, true],
    [{ bayId: 'bay-2' }, true],
    [{ bayId: 'yard' }, false],
    [{ stage: 'sanded' }, true],
    [{ stage: 'wet' }, false],
    [{ by: 'ab' }, true],
    [{ by: 'CD' }, true],
    [{ by: 'EF' }, true],
    [{ by: 'A' }, false],
    [{ text: 'FRONT' }, true],
    [{ text: '4711' }, true],
    [{ text: 'body fil' }, true],
    [{ text: 'bay-2' }, true],
    [{ text: 'ef' }, true],
    [{ text: 'boot' }, false],
    [{ from: { kind: 'instant', at: minute(0) } }, true],
    [{ from: { kind: 'instant', at: minute(1) } }, false],
    [{ to: { kind: 'instant', at: minute(0) } }, true],
    [{ to: { kind: 'instant', at: minute(-1) } }, false],
    [{ from: { kind: 'day', day: '2026-01-12' }, to: { kind: 'day', day: '2026-01-12' } }, true],
    [{ from: { kind: 'day', day: '2026-01-13' } }, false],
    [{ to: { kind: 'day', day: '2026-01-11' } }, false],
    [{ text: 'front', stage: 'wet' }, false],
  ] as const)('asked for by %j is found: %s', (asked, isFound) => {
    expect(isAskedFor(state, { ...everything, ...asked }, names)).toBe(isFound);
  });

  it('is found without case and accents, and without a repair order', () => {
    const bare = stateOf();
    expect(isAskedFor(bare, { ...everything, text: 'bay 1' }, names)).toBe(true);
    expect(isAskedFor({ ...bare, by: null, lastAct: null }, { ...everything, by: 'AB' }, names)).toBe(false);
  });

  it('is none when its start was undone', () => {
    const undone = foldBatch(place([started(), fact('FactUndone', 1, { factSequence: 1 as Sequence })]));
    expect(wasStarted(undone as BatchState)).toBe(false);
    expect(wasStarted(state)).toBe(true);
  });
});

function batch(id: string, afterMin: number, more: Partial<BatchState> = {}): BatchState {
  return stateOf({ id: id as BatchId, mixedAt: minute(afterMin), ...more });
}

describe('groups', () => {
  it('hold a repair order together over days, and panels without one by their local day', () => {
    const lateMin = 15 * 60;
    const groups = groupRecords(
      [
        batch('a', 0, { repairOrder: '1' }),
        batch('b', 24 * 60, { repairOrder: '1', panel: 'Roof' }),
        batch('c', 10),
        batch('d', 30),
        batch('e', lateMin),
        batch('f', lateMin + 2 * 60),
      ],
      names,
    );
    expect(
      groups.map(({ repairOrder, panel, day, states }) => [
        repairOrder,
        panel,
        day,
        states.map(({ id }) => id),
      ]),
    ).toEqual([
      ['1', 'Roof', '2026-01-13', ['b', 'a']],
      // 00:00 UTC on the 13th is one o'clock in Madrid; 22:00 UTC is 23:00 of the 12th there.
      [null, 'Left front door', '2026-01-13', ['f']],
      [null, 'Left front door', '2026-01-12', ['e', 'd', 'c']],
    ]);
  });

  it('do not take a panel for a repair order of the same name', () => {
    const groups = groupRecords(
      [batch('a', 0, { repairOrder: 'Roof' }), batch('b', 0, { panel: 'Roof' })],
      names,
    );
    expect(groups).toHaveLength(2);
  });

  it('of the same instant keep the order of their names', () => {
    expect(newestFirst([batch('b', 0), batch('a', 0), batch('c', 1)]).map(({ id }) => id)).toEqual([
      'c',
      'a',
      'b',
    ]);
  });
});

describe('pages', () => {
  it('give every group once, newest first, however long they are and however many are of one instant', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 30 }),
        fc.integer({ min: 1, max: 7 }),
        (afterMins, limit) => {
          const states = afterMins.map((afterMin, index) =>
            batch(`b${index}`, afterMin, { repairOrder: `${index}` }),
          );
          const groups = groupRecords(states, names);
          const seen: (string | null)[] = [];
          let beforeAt: Instant | null = null;
          for (let page = 0; page <= states.length; page += 1) {
            const { groups: own, nextBeforeAt } = pageGroups(groups, { limit, beforeAt });
            expect(own.length >= Math.min(limit, groups.length - seen.length)).toBe(true);
            seen.push(...own.map(({ repairOrder }) => repairOrder));
            if (nextBeforeAt === null) break;
            beforeAt = nextBeforeAt;
          }
          expect(seen).toEqual(groups.map(({ repairOrder }) => repairOrder));
        },
      ),
      { seed: 20260112, numRuns: 200 },
    );
  });
});

describe('a local day', () => {
  it.each([
    ['Europe/Madrid', '2026-03-28T22:59:59Z', '2026-03-28'],
    ['Europe/Madrid', '2026-03-28T23:00:00Z', '2026-03-29'],
    // Summer time has begun: midnight is at 22:00 UTC.
    ['Europe/Madrid', '2026-03-29T22:00:00Z', '2026-03-30'],
    ['Pacific/Auckland', '2026-01-11T11:00:00Z', '2026-01-12'],
    ['America/Los_Angeles', '2026-01-12T07:59:00Z', '2026-01-11'],
  ])('in %s at %s is %s', (timeZone, instant, day) => {
    expect(makeDayReader(timeZone)(Date.parse(instant) as Instant)).toBe(day);
  });
});
