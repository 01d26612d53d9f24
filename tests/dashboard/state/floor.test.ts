// What Floor shows: filters, order, pages of a wall, where the bare address leads, and a week of changes that leave nothing behind.
import { describe, expect, it } from 'vitest';
import { applyLiveMessage } from '../../../dashboard/state/applyLiveMessage.ts';
import { emptyMemory, parseMemory } from '../../../dashboard/state/device.ts';
import { groupPanels, isOnFloor, pageOf } from '../../../dashboard/state/floorGroups.ts';
import { homePath, screenOf } from '../../../dashboard/state/homePath.ts';
import type { LiveState } from '../../../dashboard/state/liveState.ts';
import type { BatchWire } from '../../../server/contract/index.ts';
import { makeAlert, makeBatch, makeSnapshot, minutesIn } from '../fixtures.ts';

const { bays } = makeSnapshot();
const ids = (panels: readonly BatchWire[]): string => panels.map(({ id }) => id).join(' ');

describe('the filters', () => {
  it('show a bay, or a person with what is nobody’s', () => {
    const batch = makeBatch({ bayId: 'bay-2', by: 'MK' });
    expect(isOnFloor(batch, { bayId: null, person: null })).toBe(true);
    expect(isOnFloor(batch, { bayId: 'bay-1', person: null })).toBe(false);
    expect(isOnFloor(batch, { bayId: 'bay-2', person: 'MK' })).toBe(true);
    expect(isOnFloor(batch, { bayId: null, person: 'TO' })).toBe(false);
    expect(isOnFloor(makeBatch({ by: null }), { bayId: null, person: 'TO' })).toBe(true);
  });

  it('are remembered by the device, and forgotten where they are nothing', () => {
    const memory = { ...emptyMemory, floorOrder: 'bay', floorBayId: 'bay-1', floorPerson: 'MK' } as const;
    expect(parseMemory(JSON.stringify(memory))).toEqual(memory);
    expect(parseMemory('{"floorOrder": 3, "floorBayId": 4, "floorPerson": [], "lastScreen": "/x"}')).toEqual(
      emptyMemory,
    );
  });
});

describe('the order', () => {
  const panels = [
    makeBatch({ id: 'none-late', stage: 'kicked', spreadAt: minutesIn(1) }),
    makeBatch({ id: 'none-soon', bayId: 'bay-1' }),
    makeBatch({ id: 'noon', promisedAt: minutesIn(300) }),
    makeBatch({ id: 'ten', promisedAt: minutesIn(180), bayId: 'bay-1' }),
    makeBatch({ id: 'blind', estimate: null }),
  ];

  it('is by promise, then by the next act, and last what has no time', () => {
    const groups = groupPanels(panels, { order: 'promise', bays });
    expect(groups.map(({ name, panels: own }) => [name, ids(own)])).toEqual([
      [null, 'ten noon none-soon none-late blind'],
    ]);
  });

  it('is bay by bay in the order of the shop, without empty bays', () => {
    const groups = groupPanels(panels, { order: 'bay', bays });
    expect(groups.map(({ name, panels: own }) => [name, ids(own)])).toEqual([
      ['Bay 1', 'ten none-soon'],
      ['Bay 2', 'noon none-late blind'],
    ]);
    const one = groupPanels(panels.slice(1, 2), { order: 'bay', bays });
    expect(one.map(({ name }) => name)).toEqual(['Bay 1']);
    expect(groupPanels([], { order: 'promise', bays })).toEqual([]);
  });
});

describe('the pages of a wall', () => {
  it('are as even as they can be and come round again', () => {
    const items = Array.from({ length: 23 }, (_, index) => index);
    const pages = [0, 1, 2].map((turnCount) => pageOf(items, { fitCount: 10, turnCount }));
    expect(pages.map(({ shown }) => shown.length)).toEqual([8, 8, 7]);
    expect(pages.flatMap(({ shown }) => shown)).toEqual(items);
    expect(pageOf(items, { fitCount: 10, turnCount: 3 })).toEqual(pages[0]);
  });

  it('are one where all fit, where nothing is there, and where nothing was measured yet', () => {
    expect(pageOf([1, 2], { fitCount: 5, turnCount: 9 })).toEqual({ shown: [1, 2], index: 0, count: 1 });
    expect(pageOf([], { fitCount: 5, turnCount: 9 })).toEqual({ shown: [], index: 0, count: 1 });
    expect(pageOf([1, 2], { fitCount: 0, turnCount: 0 }).shown).toEqual([1]);
  });
});

describe('the bare address', () => {
  it('leads to the page the device used last, Bench on a phone, Floor elsewhere', () => {
    expect(homePath({ lastScreen: '/records', isPhone: true })).toBe('/records');
    expect(homePath({ lastScreen: null, isPhone: true })).toBe('/bench');
    expect(homePath({ lastScreen: null, isPhone: false })).toBe('/floor');
    expect(['/bench', '/records/4711', '/floors', '/'].map((path) => screenOf(path))).toEqual([
      '/bench',
      '/records',
      null,
      null,
    ]);
  });
});

describe('a week of live changes', () => {
  it('leaves a state no larger than the shop: what is done is gone, with its alerts', () => {
    let state = applyLiveMessage(null, { kind: 'snapshot', snapshot: makeSnapshot() }).state as LiveState;
    const sizes: number[] = [];
    for (let index = 0; index < 5000; index += 1) {
      const id = `batch-${index % 700}`;
      const isDone = index % 7 === 6;
      const change = {
        afterSequence: state.sequence,
        sequence: state.sequence + 2,
        batches: [
          makeBatch({ id, version: index, stage: isDone ? 'sanded' : 'kicked' }),
          makeBatch({ id: `batch-${(index + 690) % 700}`, stage: 'sanded' }),
        ],
        alerts: [
          makeAlert({ id: `${id}.test.${index}`, batchId: id, withdrawnAt: isDone ? minutesIn(40) : null }),
          ...(index < 10
            ? []
            : [
                makeAlert({
                  id: `batch-${(index - 10) % 700}.test.${index - 10}`,
                  withdrawnAt: minutesIn(41),
                }),
              ]),
        ],
      };
      const applied = applyLiveMessage(state, { kind: 'change', change });
      expect(applied.outcome).toBe('applied');
      state = applied.state as LiveState;
      if (index % 500 === 499) sizes.push(JSON.stringify(state).length);
    }
    expect(state.batches.length).toBeLessThan(12);
    expect(state.alerts.length).toBeLessThan(12);
    expect(Math.max(...sizes)).toBeLessThan(1.5 * Math.min(...sizes));
  });
});
