// Whole lives of a batch from random taps and clocks: every answer can be used, and the fold never disagrees with the steps.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BatchCommand, type Instant, REFUSAL_CODES } from '../../server/contract/index.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import { decideBatch } from '../../server/domain/decideBatch.ts';
import { type CommandInputs, decideCommand } from '../../server/domain/decideCommand.ts';
import { evolveBatch, foldBatch } from '../../server/domain/evolveBatch.ts';
import type { Fact } from '../../server/domain/facts.ts';
import { minutesBetween } from '../../server/domain/minutes.ts';
import {
  ALERT_SETTINGS,
  BAY_IDS,
  BODY_FILLER,
  estimateOf,
  expectUsable,
  LAMP,
  minute,
  MIXED_AT,
  place,
  placeDrafts,
  started,
} from '../support/domainFixtures.ts';

const RUN = { seed: 20_260_112, numRuns: 150 };

/** One tap: what is asked, how long after the one before, and how far it is dated back. */
interface Tap {
  readonly command: BatchCommand;
  readonly waitMin: number;
  readonly backMin: number | null;
  readonly testFromMin: number | null;
  readonly isLatestAct: boolean;
}

const command: fc.Arbitrary<BatchCommand> = fc.oneof(
  fc.constantFrom<BatchCommand>({ type: 'markSpread' }, { type: 'finishSanding' }, { type: 'scrap' }),
  fc.record({
    type: fc.constant('recordCheck' as const),
    outcome: fc.constantFrom('gums' as const, 'powders' as const),
  }),
  fc.record({ type: fc.constant('moveToBay' as const), bayId: fc.constantFrom(...BAY_IDS, 'attic') }),
  fc.record({
    type: fc.constant('switchLamp' as const),
    lampId: fc.constantFrom('lamp-1', 'lamp-1', 'sun'),
    forMin: fc.constantFrom(0, 5, 30),
    distanceCm: fc.constantFrom(60, 90, 200),
  }),
  fc.record({ type: fc.constant('undo' as const), factSequence: fc.integer({ min: 1, max: 20 }) }),
);

const tap: fc.Arbitrary<Tap> = fc.record({
  command,
  waitMin: fc.constantFrom(0, 0.5, 2, 6, 9, 15),
  backMin: fc.constantFrom(null, null, 0, 1, 5, 30, -1, -2),
  testFromMin: fc.constantFrom(null, 8, 22, 22, 40),
  isLatestAct: fc.boolean(),
});

interface Life {
  readonly facts: readonly Fact[];
  readonly state: BatchState;
}

/** As the ledger's reader does it: an undo folds everything again, all else moves on from the state. */
function extend(life: Life, facts: readonly Fact[]): Life {
  const added = facts.slice(life.facts.length);
  const mustFold = added.some((fact) => fact.type === 'FactUndone');
  const state = mustFold ? (foldBatch(facts) as BatchState) : added.reduce(evolveBatch, life.state);
  return { facts, state };
}

function inputsOf({ facts }: Life, nowAt: Instant): CommandInputs {
  return { card: BODY_FILLER, nowAt, bayIds: BAY_IDS, lamps: [LAMP], facts };
}

/** Asks, then lets the estimate follow, as the middle does. */
function live(life: Life, { command: asked, backMin, testFromMin, isLatestAct }: Tap, nowAt: Instant): Life {
  const { lastAct } = life.state;
  const aimed =
    asked.type === 'undo' && isLatestAct && lastAct !== null
      ? { ...asked, factSequence: lastAct.factSequence }
      : asked;
  const dated = backMin === null ? aimed : { ...aimed, at: (nowAt - backMin * 60_000) as Instant };
  const decision = decideCommand(life.state, dated, inputsOf(life, nowAt));
  expectUsable(decision);
  if (decision.kind === 'refused') return life;
  expect(decision.facts.length).toBeGreaterThan(0);
  const asking = extend(life, placeDrafts(life.facts, decision.facts, nowAt));
  expect(asking.state.version).toBeGreaterThan(life.state.version);
  const estimate = estimateOf({ testFromAt: testFromMin === null ? null : minute(testFromMin) });
  const drafts = decideBatch(asking.state, estimate, { card: BODY_FILLER, nowAt, alerts: ALERT_SETTINGS });
  return extend(asking, placeDrafts(asking.facts, drafts, nowAt));
}

/** Calls back after each tap of a life. */
function forEachLife(check: (life: Life, nowAt: Instant) => void): void {
  fc.assert(
    fc.property(fc.array(tap, { maxLength: 25 }), (taps) => {
      const facts = place([started()]);
      let life: Life = { facts, state: foldBatch(facts) as BatchState };
      let nowAt = MIXED_AT;
      for (const one of taps) {
        nowAt = (nowAt + one.waitMin * 60_000) as Instant;
        life = live(life, one, nowAt);
        check(life, nowAt);
      }
    }),
    RUN,
  );
}

describe('a batch’s life', () => {
  it('folds to the state that its facts led to step by step', () => {
    forEachLife(({ facts, state }) => expect(foldBatch(facts)).toEqual(state));
  });

  it('keeps its stays in order of time, the last one where it stands', () => {
    forEachLife(({ state }) => {
      const times = state.stays.map((stay) => stay.fromAt);
      expect(times).toEqual(times.toSorted((a, b) => a - b));
      expect(state.stays.at(-1)?.bayId).toBe(state.bayId);
    });
  });

  it('never has two alerts of a kind open, nor one of a name twice, nor any once it is closed', () => {
    forEachLife(({ state }) => {
      const open = state.alerts.filter((alert) => alert.withdrawnAt === null).map((alert) => alert.kind);
      expect(new Set(open).size).toBe(open.length);
      expect(new Set(state.alerts.map((alert) => alert.id)).size).toBe(state.alerts.length);
      if (state.closedAt !== null) expect(open).toEqual([]);
    });
  });

  it('never lights one lamp twice at once, and lights none before mixing', () => {
    forEachLife(({ state }) => {
      const spells = state.lamps.toSorted((a, b) => a.fromAt - b.fromAt);
      for (const [index, spell] of spells.entries()) {
        expect(minutesBetween(MIXED_AT, spell.fromAt)).toBeGreaterThanOrEqual(0);
        expect(spell.untilAt).toBeGreaterThan(spell.fromAt);
        expect(spells[index + 1]?.fromAt ?? spell.untilAt).toBeGreaterThanOrEqual(spell.untilAt);
      }
    });
  });

  it('is closed exactly while its stage says so', () => {
    forEachLife(({ state }) => {
      expect(state.closedAt !== null).toBe(state.stage === 'sanded' || state.stage === 'scrapped');
    });
  });

  it('can name the act that undo would take back, or has none left', () => {
    forEachLife(({ facts, state }, nowAt) => {
      if (state.lastAct === null) return;
      const decision = decideCommand(
        state,
        { type: 'undo', factSequence: state.lastAct.factSequence },
        inputsOf({ facts, state }, nowAt),
      );
      if (decision.kind === 'refused') expect(decision.refusal.code).toBe('undo-too-late');
    });
  });

  it('refuses with codes of a closed list, each of them once', () => {
    expect(new Set(REFUSAL_CODES).size).toBe(REFUSAL_CODES.length);
  });
});
