// What stays within reach after it was closed: for a next layer, and for the way back.
import { describe, expect, it } from 'vitest';
import { applyLiveMessage, mergeBatch } from '../../../dashboard/state/applyLiveMessage.ts';
import { canReopen, justClosedOf, layerBelow } from '../../../dashboard/state/justClosed.ts';
import type { Kept } from '../../../dashboard/state/kept.ts';
import { makeBatch, makeSnapshot, minutesIn, MIXED_AT } from '../fixtures.ts';

const sanded = makeBatch({
  version: 5,
  stage: 'sanded',
  closedAt: minutesIn(40),
  lastAct: { factSequence: 30, type: 'BatchSanded', recordedAt: minutesIn(40), by: 'KL' },
});
const scrapped = makeBatch({
  id: 'batch-2',
  stage: 'scrapped',
  closedAt: minutesIn(41),
  lastAct: { factSequence: 31, type: 'BatchScrapped', recordedAt: minutesIn(41), by: null },
});
const at = (afterMin: number): number => MIXED_AT + afterMin * 60_000;
const idsAt = (afterMin: number, batches = [sanded, scrapped], queue: readonly Kept[] = []): string[] =>
  justClosedOf({ batches, queue, nowAt: at(afterMin) }).map(({ id }) => id);

describe('a closed batch', () => {
  it('stays within reach for half an hour, a scrapped one for as long as it can be undone', () => {
    expect(idsAt(45)).toEqual(['batch-2', 'batch-1']);
    expect(idsAt(52)).toEqual(['batch-1']);
    expect(idsAt(71)).toEqual([]);
  });

  it('is not there while it is open', () => {
    expect(idsAt(45, [makeBatch()])).toEqual([]);
  });

  it('makes room for its next layer, on its own panel and repair order alone', () => {
    const next = makeBatch({ id: 'batch-3', mixedAt: minutesIn(44), underlayMm: 2 });
    expect(idsAt(45, [sanded, next])).toEqual([]);
    expect(idsAt(45, [sanded, { ...next, repairOrder: '9' }])).toEqual(['batch-1']);
    expect(idsAt(45, [sanded, { ...next, panel: 'Roof' }])).toEqual(['batch-1']);
    expect(idsAt(45, [sanded, { ...next, stage: 'scrapped' }])).toEqual(['batch-1']);
  });

  it('makes room for a next layer that is only kept so far', () => {
    const start = {
      cardId: 'finishing-putty',
      panel: sanded.panel,
      bayId: 'bay-2',
      thicknessMm: 0.5,
      substrate: 'steel',
      mixedAt: minutesIn(44),
      repairOrder: '4711',
    } as const;
    const kept: Kept = { key: 'k', panel: 'p', tappedAt: 0, keptAt: 0, body: { kind: 'start', start } };
    expect(idsAt(45, [sanded], [kept])).toEqual([]);
  });

  it('is shown while an act on it is kept, whatever closed it', () => {
    const kept: Kept = {
      key: 'k',
      panel: 'p',
      tappedAt: 0,
      keptAt: 0,
      body: { kind: 'command', batchId: 'batch-2', command: { type: 'scrap' } },
    };
    expect(idsAt(45, [{ ...scrapped, lastAct: null }])).toEqual([]);
    expect(idsAt(45, [{ ...scrapped, lastAct: null }], [kept])).toEqual(['batch-2']);
  });

  it('can be opened again for ten minutes, if closing it was its last act', () => {
    expect(canReopen(sanded, at(50))).toBe(true);
    expect(canReopen(sanded, at(50.1))).toBe(false);
    const other = { factSequence: 9, type: 'BatchMoved', recordedAt: minutesIn(45), by: null };
    expect(canReopen({ ...sanded, lastAct: other }, at(46))).toBe(false);
  });
});

describe('the layer below a panel', () => {
  it('is the newest that is being sanded or was sanded', () => {
    const older = makeBatch({ id: 'older', stage: 'sanded', mixedAt: minutesIn(-60) });
    const wet = makeBatch({ id: 'wet', mixedAt: minutesIn(50) });
    expect(layerBelow('Left front door', [older, sanded, wet, scrapped])?.id).toBe('batch-1');
    expect(layerBelow('Roof', [older, sanded])).toBeNull();
  });
});

describe('the page’s state', () => {
  const { nowAt: _, ...held } = makeSnapshot();

  it('holds a batch that a change closes, and takes it back when it is opened again', () => {
    const change = { sequence: 11, afterSequence: 10, batches: [sanded], alerts: [] };
    const closed = applyLiveMessage(held, { kind: 'change', change }).state;
    expect([closed?.batches, closed?.closed]).toEqual([[], [sanded]]);
    const again = { ...sanded, version: 6, stage: 'sanding' as const, closedAt: null };
    const reopened = { sequence: 12, afterSequence: 11, batches: [again], alerts: [] };
    const state = applyLiveMessage(closed, { kind: 'change', change: reopened }).state;
    expect([state?.batches, state?.closed]).toEqual([[again], []]);
  });

  it('keeps it over the next snapshot of the same shop, and forgets it in another one', () => {
    const state = { ...held, batches: [], closed: [sanded] };
    const snapshot = makeSnapshot({ sequence: 12, batches: [] });
    expect(applyLiveMessage(state, { kind: 'snapshot', snapshot }).state?.closed).toEqual([sanded]);
    const other = { ...snapshot, ledgerId: 'ledger-2' };
    expect(applyLiveMessage(state, { kind: 'snapshot', snapshot: other }).state?.closed).toEqual([]);
  });

  it('does not open a closed batch by an answer that comes late', () => {
    const state = { ...held, batches: [], closed: [sanded] };
    expect(mergeBatch(state, makeBatch({ version: 4, stage: 'sanding' }))).toBe(state);
  });
});
