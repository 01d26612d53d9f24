// Next hands: the minute of need, what a promise has to spare, why it is in danger, and the order.
import { describe, expect, it } from 'vitest';
import { isoFromInstant } from '../../server/contract/index.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import type { BatchId } from '../../server/domain/facts.ts';
import { type PlanEntry, planNextHands } from '../../server/domain/planNextHands.ts';
import { BODY_FILLER, estimateOf, minute, NO_TIMES, stateOf } from '../support/domainFixtures.ts';

/** A panel that kicks after 6 min, is worth testing from 22, P50 20, P90 25; its parts replaced. */
function panel(id: string, parts: Partial<BatchState> = {}): BatchState {
  return stateOf({ id: id as BatchId, stage: 'kicked', by: null, estimate: estimateOf(), ...parts });
}

function plan(nowMin: number, ...states: BatchState[]): PlanEntry[] {
  return planNextHands(states, { cardOf: () => BODY_FILLER, nowAt: minute(nowMin) });
}

function only(nowMin: number, state: BatchState): PlanEntry {
  return plan(nowMin, state)[0] as PlanEntry;
}

const ids = (entries: readonly PlanEntry[]): string => entries.map(({ state }) => state.id).join(' ');

describe('the minute of need', () => {
  it.each([
    ['a wet mix must be spread before it kicks', panel('a', { stage: 'wet' }), 'spread', 6],
    [
      'without an estimate by the working time of the tin',
      panel('a', { stage: 'wet', estimate: null }),
      'spread',
      5,
    ],
    ['a spread mix is tested', panel('a', { stage: 'wet', spreadAt: minute(2) }), 'test', 22],
    ['a kicked film is tested', panel('a'), 'test', 22],
    [
      'a called test waits since its minute',
      panel('a', { stage: 'test', estimate: estimateOf({ testFromAt: minute(8) }) }),
      'waiting',
      8,
    ],
    ['a called test whose time moved on waits now', panel('a', { stage: 'test' }), 'waiting', 10],
    [
      'a called test whose time is lost waits now',
      panel('a', { stage: 'test', estimate: estimateOf(NO_TIMES) }),
      'waiting',
      10,
    ],
    ['sanding is in hand', panel('a', { stage: 'sanding', sandingAt: minute(9) }), 'sanding', 9],
    ['a stalled film has none', panel('a', { estimate: estimateOf(NO_TIMES) }), 'unknown', null],
    ['a film that was never estimated has none', panel('a', { estimate: null }), 'unknown', null],
  ])('is known: %s', (_, state, need, needMin) => {
    const entry = only(10, state);
    expect(entry.need).toBe(need);
    expect(entry.needAt).toBe(needMin === null ? null : minute(needMin));
  });
});

describe('what a promise has to spare', () => {
  it('is the promise less P50 of the test and the work that remains, and the same by P90', () => {
    const entry = only(10, panel('a', { promisedAt: minute(120), remainingWorkMin: 60 }));
    expect(isoFromInstant(entry.doneP50At as never)).toBe(isoFromInstant(minute(80)));
    expect([entry.slackMin, entry.slackP90Min, entry.danger]).toEqual([40, 35, null]);
  });

  it('shrinks with each minute that an overdue test waits', () => {
    const state = panel('a', { stage: 'test', promisedAt: minute(120), remainingWorkMin: 60 });
    expect([only(30, state).slackMin, only(41, state).slackMin]).toEqual([30, 19]);
  });

  it('counts from the start of sanding once it has begun, and never before now', () => {
    const state = panel('a', {
      stage: 'sanding',
      sandingAt: minute(30),
      promisedAt: minute(120),
      remainingWorkMin: 60,
    });
    expect([only(40, state).slackMin, only(100, state).slackMin]).toEqual([30, 20]);
  });

  it('takes a rest of work that nobody told as none', () => {
    expect(only(10, panel('a', { promisedAt: minute(50) })).slackMin).toBe(30);
  });

  it('is not known without a promise or without a time', () => {
    expect(only(10, panel('a')).slackMin).toBeNull();
    expect(only(10, panel('a', { promisedAt: minute(50), estimate: null })).slackMin).toBeNull();
  });
});

describe('a promise in danger', () => {
  const promised = (promisedMin: number, parts: Partial<BatchState> = {}): BatchState =>
    panel('a', { promisedAt: minute(promisedMin), remainingWorkMin: 60, ...parts });

  it('is late by P50, tight by P90 only, or out of danger', () => {
    expect(only(10, promised(70)).danger).toMatchObject({ kind: 'late', byMin: 10 });
    expect(only(10, promised(82)).danger).toMatchObject({ kind: 'tight', byMin: 3 });
    expect(only(10, promised(85)).danger).toBeNull();
  });

  it('names the panels that need someone in the same minutes, where it may be the same person', () => {
    const entries = plan(
      10,
      promised(70, { by: 'AB' }),
      panel('b', { estimate: estimateOf({ testFromAt: minute(26) }), by: 'AB' }),
      panel('c', { estimate: estimateOf({ testFromAt: minute(24) }) }),
      panel('d', { estimate: estimateOf({ testFromAt: minute(24) }), by: 'CD' }),
      panel('e', { estimate: estimateOf({ testFromAt: minute(40) }), by: 'AB' }),
      panel('f', { stage: 'sanding', sandingAt: minute(22), by: 'AB' }),
      panel('g', { estimate: null }),
    );
    const { danger } = entries.find(({ state }) => state.id === 'a') as PlanEntry;
    expect(danger).toMatchObject({ rivalIds: ['b', 'c'], handsGainMin: 0 });
  });

  // Alone both are done in time: test at 20, 60 minutes each, promised for 90 and 100. One pair of hands ends at 80 and 140.
  it('may lie in the hands alone: one person with two promises that only two could keep', () => {
    const entries = plan(
      10,
      promised(90, { by: 'AB', repairOrder: '1' }),
      panel('b', { promisedAt: minute(100), remainingWorkMin: 60, by: 'AB', repairOrder: '2' }),
    );
    expect(entries.map(({ state, danger }) => [state.id, danger])).toEqual([
      ['a', null],
      ['b', { kind: 'hands', byMin: 40, rivalIds: ['a'], handsGainMin: 40 }],
    ]);
  });

  it('is late by itself and later still by its hands', () => {
    const [, second] = plan(
      10,
      promised(70, { by: 'AB', repairOrder: '1' }),
      panel('b', { promisedAt: minute(75), remainingWorkMin: 60, by: 'AB', repairOrder: '2' }),
    );
    expect(second?.danger).toEqual({ kind: 'late', byMin: 5, rivalIds: ['a'], handsGainMin: 60 });
  });

  it('counts the panels of one repair order as one car with one rest of work', () => {
    const entries = plan(
      10,
      promised(90, { by: 'AB', repairOrder: '1' }),
      panel('b', { promisedAt: minute(90), remainingWorkMin: 60, by: 'AB', repairOrder: '1' }),
    );
    expect(entries.map(({ danger }) => danger)).toEqual([null, null]);
  });

  it('lets a panel in hand occupy its person from now on', () => {
    const [first] = plan(
      10,
      panel('a', { promisedAt: minute(70), remainingWorkMin: 45, by: 'AB' }),
      panel('b', {
        stage: 'sanding',
        sandingAt: minute(5),
        promisedAt: minute(50),
        remainingWorkMin: 35,
        by: 'AB',
      }),
    );
    // b is in hand until 40, then a takes until 85: 15 too late, though alone it would be done by 65.
    expect(first?.danger).toMatchObject({ kind: 'hands', byMin: 15, rivalIds: ['b'] });
  });

  it('sees no clash where nobody has told any work that remains', () => {
    const entries = plan(
      10,
      panel('a', { promisedAt: minute(30), by: 'AB' }),
      panel('b', { promisedAt: minute(30), by: 'AB' }),
    );
    expect(entries.map(({ danger }) => danger)).toEqual([null, null]);
  });

  it('asks only for the eight next promises of one person', () => {
    const many = Array.from({ length: 10 }, (_, index) =>
      panel(`p${index}`, { promisedAt: minute(30 + index), remainingWorkMin: 5, by: 'AB' }),
    );
    const entries = plan(10, ...many);
    const late = entries.filter(({ danger }) => danger !== null).map(({ state }) => state.id);
    expect(late).not.toContain('p8');
    expect(late).toContain('p7');
  });
});

describe('the order', () => {
  it('is by the minute of need; what waits already needs someone this minute', () => {
    const waiting = (id: string, sinceMin: number, promisedMin: number): BatchState =>
      panel(id, {
        stage: 'test',
        estimate: estimateOf({ testFromAt: minute(sinceMin) }),
        promisedAt: minute(promisedMin),
      });
    const entries = plan(
      30,
      panel('later', { estimate: estimateOf({ testFromAt: minute(40) }) }),
      panel('nor', { estimate: null }),
      panel('never', { estimate: null }),
      panel('inHand', { stage: 'sanding', sandingAt: minute(1), promisedAt: minute(30) }),
      waiting('relaxed', 10, 300),
      waiting('pressed', 25, 60),
      panel('soon', { estimate: estimateOf({ testFromAt: minute(32) }) }),
    );
    expect(ids(entries)).toBe('pressed relaxed soon later never nor inHand');
  });

  it('puts a mix that spoils first in its minute, then the least slack, then the earlier, then the name', () => {
    const at = (id: string, testMin: number, promisedAt: BatchState['promisedAt'] = null): BatchState =>
      panel(id, { estimate: estimateOf({ testFromAt: minute(testMin) }), promisedAt });
    const entries = plan(
      5,
      at('d', 6.5),
      at('c', 6.2),
      at('b', 6.2),
      at('a', 6.9, minute(90)),
      panel('e', { stage: 'wet' }),
    );
    expect(ids(entries)).toBe('e a b c d');
  });

  it('is empty for a shop with nothing open', () => {
    expect(plan(0)).toEqual([]);
  });
});
