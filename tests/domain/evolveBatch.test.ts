// The fold of facts: each fact moves only its own fields, and an undone one counts as if it had not been.
import { describe, expect, it } from 'vitest';
import { isCuring, isOpen, type BatchState } from '../../server/domain/batch.ts';
import { evolveBatch, foldBatch, isAct, undoneSequences } from '../../server/domain/evolveBatch.ts';
import type { Fact, FactType, Sequence } from '../../server/domain/facts.ts';
import {
  estimated,
  estimateOf,
  fact,
  minute,
  MIXED_AT,
  place,
  type Placeable,
  started,
  stateAfter,
  stateOf,
} from '../support/domainFixtures.ts';

const undo = (factSequence: number, afterMin: number): Placeable =>
  fact('FactUndone', afterMin, { factSequence: factSequence as Sequence });
const lamp = (afterMin: number, forMin: number, lampId = 'lamp-1'): Placeable =>
  fact('LampSwitched', afterMin, { lampId, distanceCm: 60, forMin, fluxWPerM2: 900 });
const moved = (afterMin: number, bayId: string): Placeable => fact('BatchMoved', afterMin, { bayId });
const check = (afterMin: number, outcome: 'gums' | 'powders'): Placeable =>
  fact('CheckRecorded', afterMin, { outcome, firstTry: null }, { by: 'CD' });

/** What changed in the state of a plain start by these facts, in the fields that are asked for. */
function after<K extends keyof BatchState>(
  placeables: readonly Placeable[],
  ...keys: readonly K[]
): Pick<BatchState, K> {
  const state = stateAfter(started(), ...placeables);
  return Object.fromEntries(keys.map((key) => [key, state[key]])) as Pick<BatchState, K>;
}

describe('a started batch', () => {
  it('is wet, stands in its bay from mixing on and has no history', () => {
    expect(stateAfter(started())).toMatchObject({
      id: 'b1',
      version: 1,
      stage: 'wet',
      by: 'AB',
      cardId: 'body-filler',
      thicknessMm: 2,
      spreadAt: null,
      sandingAt: null,
      closedAt: null,
      stays: [{ bayId: 'bay-1', fromAt: MIXED_AT }],
      lamps: [],
      checks: [],
      alerts: [],
      lastAct: { factSequence: 1, type: 'BatchStarted', recordedAt: MIXED_AT, by: 'AB' },
      estimate: null,
    });
  });

  it('is none without a start', () => {
    expect(foldBatch([])).toBeNull();
    expect(foldBatch(place([fact('BatchSpread', 1, {})]))).toBeNull();
  });
});

describe('a fact', () => {
  it('of spreading tells when', () => {
    expect(after([fact('BatchSpread', 3, {})], 'spreadAt', 'stage', 'version')).toEqual({
      spreadAt: minute(3),
      stage: 'wet',
      version: 2,
    });
  });

  it('of moving adds a stay', () => {
    expect(after([moved(5, 'bay-2'), moved(9, 'bay-1')], 'bayId', 'stays')).toEqual({
      bayId: 'bay-1',
      stays: [
        { bayId: 'bay-1', fromAt: MIXED_AT },
        { bayId: 'bay-2', fromAt: minute(5) },
        { bayId: 'bay-1', fromAt: minute(9) },
      ],
    });
  });

  it('of a move that is dated back before others takes their place', () => {
    expect(after([moved(9, 'bay-2'), moved(5, 'yard')], 'bayId', 'stays')).toEqual({
      bayId: 'yard',
      stays: [
        { bayId: 'bay-1', fromAt: MIXED_AT },
        { bayId: 'yard', fromAt: minute(5) },
      ],
    });
    expect(after([moved(9, 'bay-2'), moved(9, 'yard')], 'stays').stays).toHaveLength(2);
    expect(after([moved(0, 'bay-2')], 'stays').stays).toHaveLength(2);
  });

  it('of an estimate sets it with its phase and leaves the version alone', () => {
    expect(after([estimated(6, 'kicked')], 'estimate', 'stage', 'version')).toEqual({
      estimate: estimateOf(),
      stage: 'kicked',
      version: 1,
    });
  });

  it('of "gums" sends the batch back to kicked', () => {
    expect(after([estimated(22, 'test'), check(23, 'gums')], 'stage', 'checks')).toEqual({
      stage: 'kicked',
      checks: [{ at: minute(23), outcome: 'gums', firstTry: null, by: 'CD' }],
    });
  });

  it('of "powders" waits for the sanding that follows it', () => {
    expect(after([estimated(22, 'test'), check(23, 'powders')], 'stage').stage).toBe('test');
    expect(after([check(23, 'powders'), fact('SandingStarted', 23, {})], 'stage', 'sandingAt')).toEqual({
      stage: 'sanding',
      sandingAt: minute(23),
    });
  });

  it.each([
    ['BatchSanded', 'sanded'],
    ['BatchScrapped', 'scrapped'],
  ] as const)('of %s closes the batch as %s', (type, stage) => {
    expect(after([fact(type, 30, {})], 'stage', 'closedAt')).toEqual({ stage, closedAt: minute(30) });
  });

  it('of an alert raises, acknowledges and withdraws that one alone', () => {
    const raised = (round: number): Placeable =>
      fact('AlertRaised', round, { alertId: `b1.test.${round}`, kind: 'test' });
    const { alerts } = after(
      [
        raised(1),
        raised(2),
        fact('AlertAcknowledged', 3, { alertId: 'b1.test.1' }),
        fact('AlertWithdrawn', 4, { alertId: 'b1.test.2' }),
      ],
      'alerts',
    );
    expect(alerts).toMatchObject([
      { id: 'b1.test.1', kind: 'test', raisedAt: minute(1), acknowledgedAt: minute(3), withdrawnAt: null },
      { id: 'b1.test.2', kind: 'test', raisedAt: minute(2), acknowledgedAt: null, withdrawnAt: minute(4) },
    ]);
  });

  it.each([
    fact('SensorSeen', 1, { sensorId: 'a' }),
    fact('SensorQuiet', 1, { sensorId: 'a', lastAt: MIXED_AT }),
    fact('CardCalibrated', 1, {
      cardId: 'a',
      statement: '',
      constants: { inductionS: 1, rateConstantPerS: 1 },
    }),
    undo(99, 1),
    started({ panel: 'Bonnet' }),
  ])('of another kind leaves the state alone: $draft.type', (other) => {
    const state = stateOf();
    expect(evolveBatch(state, place([other])[0] as Fact)).toEqual(state);
  });
});

describe('lamps', () => {
  const spell = (fromMin: number, untilMin: number, lampId = 'lamp-1') => ({
    lampId,
    fromAt: minute(fromMin),
    untilAt: minute(untilMin),
    distanceCm: 60,
    fluxWPerM2: 900,
  });

  it.each([
    ['once', [lamp(5, 10)], [spell(5, 15)]],
    [
      'again while it burns, which cuts the first short',
      [lamp(5, 10), lamp(12, 10)],
      [spell(5, 12), spell(12, 22)],
    ],
    ['again once it is off', [lamp(5, 10), lamp(15, 10)], [spell(5, 15), spell(15, 25)]],
    ['off while it burns', [lamp(5, 10), lamp(12, 0)], [spell(5, 12)]],
    ['off once it is off', [lamp(5, 10), lamp(16, 0)], [spell(5, 15)]],
    ['off without ever burning', [lamp(5, 0)], []],
    ['off at the instant it began', [lamp(5, 10), lamp(5, 0)], []],
    ['before what was told first', [lamp(12, 10), lamp(5, 10)], [spell(5, 15)]],
    [
      'beside another lamp, which it leaves alone',
      [lamp(5, 10, 'lamp-2'), lamp(8, 10)],
      [spell(5, 15, 'lamp-2'), spell(8, 18)],
    ],
  ])('are switched on %s', (_, facts, lamps) => {
    expect(after(facts, 'lamps').lamps).toEqual(lamps);
  });
});

describe('acts', () => {
  const acts: readonly FactType[] = [
    'BatchStarted',
    'BatchSpread',
    'BatchMoved',
    'LampSwitched',
    'CheckRecorded',
    'SandingStarted',
    'BatchSanded',
    'BatchScrapped',
  ];
  const life = [
    started(),
    fact('BatchSpread', 2, {}),
    moved(3, 'bay-2'),
    lamp(4, 5),
    estimated(6, 'kicked'),
    fact('AlertRaised', 6, { alertId: 'b1.test.1', kind: 'test' }),
    check(20, 'powders'),
    fact('SandingStarted', 20, {}),
    fact('BatchSanded', 25, {}),
    fact('BatchScrapped', 26, {}),
    fact('AlertWithdrawn', 26, { alertId: 'b1.test.1' }),
    undo(99, 27),
  ];

  it('are what people did, and nothing else is', () => {
    const facts = place(life);
    expect(facts.filter((one) => isAct(one)).map((one) => one.type)).toEqual(acts);
  });

  it('each raise the version and can be taken back by their sequence', () => {
    for (const [index, type] of acts.entries()) {
      if (index === 0) continue;
      const upTo = life.slice(0, life.findIndex(({ draft }) => draft.type === type) + 1);
      const state = foldBatch(place(upTo));
      expect(state?.version).toBe(index + 1);
      const sequence = type === 'SandingStarted' ? upTo.length - 1 : upTo.length;
      expect(state?.lastAct?.factSequence).toBe(sequence);
    }
  });

  it('name sanding itself where no check came before it', () => {
    expect(after([fact('SandingStarted', 20, {})], 'lastAct').lastAct).toMatchObject({
      factSequence: 2,
      type: 'SandingStarted',
    });
  });
});

describe('an undone fact', () => {
  it('counts as if it had not been, while the version goes on rising', () => {
    const facts = [started(), moved(2, 'bay-2'), fact('BatchSpread', 3, {})];
    const versions = [1, 2, 3, 4].map(
      (count) => foldBatch(place([...facts, undo(3, 4)].slice(0, count)))?.version,
    );
    expect(versions).toEqual([1, 2, 3, 4]);
    const state = stateAfter(...facts, undo(3, 4), undo(2, 5));
    expect(state).toMatchObject({
      spreadAt: null,
      bayId: 'bay-1',
      stage: 'wet',
      version: 5,
      lastAct: { factSequence: 1, type: 'BatchStarted' },
    });
  });

  it('of "powders" and its sanding brings the batch back to its test', () => {
    const state = stateAfter(
      started(),
      estimated(22, 'test'),
      check(23, 'powders'),
      fact('SandingStarted', 23, {}),
      undo(4, 24),
      undo(3, 24),
    );
    expect(state).toMatchObject({ stage: 'test', checks: [], sandingAt: null, version: 5 });
  });

  it('of the end opens the batch again', () => {
    const state = stateAfter(
      started(),
      fact('SandingStarted', 20, {}),
      fact('BatchSanded', 25, {}),
      undo(3, 26),
    );
    expect(state).toMatchObject({ stage: 'sanding', closedAt: null });
    expect(isOpen(state)).toBe(true);
  });

  it('of the start leaves a scrapped batch that nothing can be taken back from', () => {
    const before = stateAfter(started(), estimated(0, 'wet'));
    const state = stateAfter(started(), estimated(0, 'wet'), undo(1, 4));
    expect(state).toMatchObject({ stage: 'scrapped', closedAt: minute(4), lastAct: null });
    expect(state.version).toBeGreaterThan(before.version);
    expect(isOpen(state)).toBe(false);
  });

  it('is found by its sequence', () => {
    expect(undoneSequences(place([started(), undo(1, 4), undo(7, 5)]))).toEqual(new Set([1, 7]));
  });
});

describe('a stage', () => {
  it.each([
    ['wet', true, true],
    ['kicked', true, true],
    ['test', true, true],
    ['sanding', false, true],
    ['sanded', false, false],
    ['scrapped', false, false],
  ] as const)('of %s cures: %s, and is open: %s', (stage, cures, open) => {
    expect([isCuring(stateOf({ stage })), isOpen(stateOf({ stage }))]).toEqual([cures, open]);
  });
});
