// What a new estimate means for a batch: what people must see of it, and which alerts come and go.
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import { dueCalls, turningInstants } from '../../server/domain/alertRules.ts';
import { decideBatch, isVisiblyNew } from '../../server/domain/decideBatch.ts';
import { foldBatch } from '../../server/domain/evolveBatch.ts';
import type { Estimate } from '../../server/domain/facts.ts';
import {
  ALERT_SETTINGS,
  BODY_FILLER,
  estimated,
  estimateOf,
  fact,
  minute,
  NO_TIMES,
  place,
  placeDrafts,
  type Placeable,
  started,
  stateOf,
} from '../support/domainFixtures.ts';

const alerts = ALERT_SETTINGS;
const inputs = (nowMin: number) => ({ card: BODY_FILLER, nowAt: minute(nowMin), alerts });

/** What is decided on a batch of these facts at a minute, as rows of type and what matters of its body. */
function decided(placeables: readonly Placeable[], estimate: Estimate | null, nowMin: number): unknown[] {
  const state = foldBatch(place(placeables));
  if (state === null) throw new Error('there is no batch');
  return decideBatch(state, estimate, inputs(nowMin)).map((draft) => {
    expect(draft).toMatchObject({
      version: 1,
      at: minute(nowMin),
      by: null,
      batchId: 'b1',
      bayId: state.bayId,
    });
    if (draft.type === 'EstimateChanged') return [draft.type, draft.body.phase];
    return [draft.type, 'alertId' in draft.body ? draft.body.alertId : null];
  });
}

const wet = [started(), estimated(0, 'wet')];
const spread = [...wet, fact('BatchSpread', 3, {})];
const kicked = [...spread, estimated(6, 'kicked')];
const raised = (kind: 'spreadBy' | 'test' | 'waiting', afterMin: number, round = 1): Placeable =>
  fact('AlertRaised', afterMin, { alertId: `b1.${kind}.${round}`, kind });
const withdrawn = (alertId: string, afterMin: number): Placeable =>
  fact('AlertWithdrawn', afterMin, { alertId });
const test = [...kicked, estimated(22, 'test'), raised('test', 22)];

describe('a batch', () => {
  it.each([
    ['a first estimate', [started()], 0, [['EstimateChanged', 'wet']]],
    ['the same estimate', wet, 1, []],
    ['time that brings it to kicked', spread, 6, [['EstimateChanged', 'kicked']]],
    [
      'time that brings it to test',
      kicked,
      22,
      [
        ['EstimateChanged', 'test'],
        ['AlertRaised', 'b1.test.1'],
      ],
    ],
    ['nothing new while it waits for its test', test, 30, []],
    ['a test that nobody answered: its warning is the shop’s to raise', test, 37, []],
    ['90 s left to spread it', wet, 4.5, [['AlertRaised', 'b1.spreadBy.1']]],
    ['90 s left to spread it, and it is spread', spread, 4.5, []],
    ['more than 90 s left to spread it', wet, 4.499, []],
    [
      'a mix that has kicked unspread',
      [...wet, raised('spreadBy', 5)],
      6,
      [
        ['EstimateChanged', 'kicked'],
        ['AlertWithdrawn', 'b1.spreadBy.1'],
      ],
    ],
    [
      'a mix that is spread in time',
      [...wet, raised('spreadBy', 5), fact('BatchSpread', 5, {})],
      5,
      [['AlertWithdrawn', 'b1.spreadBy.1']],
    ],
  ] as const)('decides on %s', (_, facts, nowMin, rows) => {
    expect(decided(facts, estimateOf(), nowMin)).toEqual(rows);
  });

  it('stays worth testing when the window moves later: only a person ends that', () => {
    const later = estimateOf({ testFromAt: minute(40) });
    expect(decided(test, later, 25)).toEqual([['EstimateChanged', 'test']]);
  });

  it('stays kicked when colder air moves the gel later', () => {
    const kickedAlready = [...test.slice(0, 1), estimated(6, 'kicked', { kickedAt: minute(5) })];
    expect(decided(kickedAlready, estimateOf({ kickedAt: minute(9) }), 7)).toEqual([
      ['EstimateChanged', 'kicked'],
    ]);
  });

  it('withdraws both alerts of its test once a person says "gums"', () => {
    const gums = fact('CheckRecorded', 38, { outcome: 'gums', firstTry: null });
    expect(
      decided([...test, raised('waiting', 37), gums], estimateOf({ testFromAt: minute(45) }), 38),
    ).toEqual([
      ['EstimateChanged', 'kicked'],
      ['AlertWithdrawn', 'b1.test.1'],
      ['AlertWithdrawn', 'b1.waiting.1'],
    ]);
  });

  it('leaves an alert alone that was acknowledged while its reason holds', () => {
    const seen = [...test, fact('AlertAcknowledged', 23, { alertId: 'b1.test.1' })];
    expect(decided(seen, estimateOf(), 24)).toEqual([]);
  });

  it.each([
    ['is being sanded', [...test, fact('SandingStarted', 24, {})]],
    ['was sanded', [...test, fact('BatchSanded', 24, {})]],
    ['was scrapped', [...test, fact('BatchScrapped', 24, {})]],
  ])('withdraws what is open when it %s, with or without an estimate', (_, facts) => {
    for (const estimate of [null, estimateOf()]) {
      expect(decided(facts, estimate, 25)).toEqual([['AlertWithdrawn', 'b1.test.1']]);
    }
  });

  it('withdraws nothing twice', () => {
    const closed = [...test, fact('BatchScrapped', 24, {}), withdrawn('b1.test.1', 25)];
    expect(decided(closed, null, 26)).toEqual([]);
  });

  it('has nothing left to decide once what was decided is held', () => {
    for (const nowMin of [0, 4.5, 6, 22, 37, 60]) {
      const facts = place(wet);
      const state = foldBatch(facts);
      if (state === null) throw new Error('there is no batch');
      const held = placeDrafts(facts, decideBatch(state, estimateOf(), inputs(nowMin)), minute(nowMin));
      expect(decideBatch(foldBatch(held) ?? state, estimateOf(), inputs(nowMin))).toEqual([]);
    }
  });
});

describe('an estimate', () => {
  const times = ['kickedAt', 'p10At', 'p50At', 'p90At', 'buildP50At', 'edgeP50At', 'testFromAt'] as const;
  const held = estimateOf();
  const movedBy = (key: (typeof times)[number], ms: number) => ({
    [key]: ((held[key] ?? 0) + ms) as Instant,
  });

  it.each(times)('is new to people when %s moves by more than 15 s, either way', (key) => {
    for (const ms of [15_001, -15_001]) expect(isVisiblyNew(held, estimateOf(movedBy(key, ms)))).toBe(true);
    for (const ms of [15_000, -15_000, 0])
      expect(isVisiblyNew(held, estimateOf(movedBy(key, ms)))).toBe(false);
  });

  it.each(times)('is new to people when %s is lost or found', (key) => {
    const without = estimateOf({ [key]: null });
    expect([isVisiblyNew(held, without), isVisiblyNew(without, held)]).toEqual([true, true]);
    expect(isVisiblyNew(without, without)).toBe(false);
  });

  it.each([
    ['there was none', null, {}, true],
    ['its support is lost', held, { supported: false }, true],
    ['the model is another', held, { modelVersion: '2' }, true],
    ['the leading reason is another', held, { reasons: [{ code: 'bay-cold', minutes: 4.5 }] }, true],
    ['the leading reason is gone', held, { reasons: [] }, true],
    ['a note has come', held, { notes: ['too-cold'] }, true],
    ['only the minutes of a reason have changed', held, { reasons: [{ code: 'edge', minutes: 4.4 }] }, false],
    ['a lesser reason has come', held, { reasons: [...held.reasons, { code: 'lamp', minutes: 1 }] }, false],
    [
      'only the air and the instant are newer',
      held,
      { airTemperatureC: 20.1, airAt: minute(9), computedAt: minute(9) },
      false,
    ],
  ] as const)('when %s: new to people or not', (_, before, parts, isNew) => {
    expect(isVisiblyNew(before, estimateOf(parts))).toBe(isNew);
  });
});

describe('alert rules', () => {
  const question = (phase: 'wet' | 'kicked' | 'test', nowMin: number, estimate = estimateOf()) => ({
    estimate,
    phase,
    card: BODY_FILLER,
    nowAt: minute(nowMin),
    settings: alerts,
  });

  it.each([
    ['wet', 4.499, []],
    ['wet', 4.5, ['spreadBy']],
    ['kicked', 10, []],
    ['test', 22, ['test']],
    ['test', 37, ['test']],
  ] as const)('in %s at minute %d want %j', (phase, nowMin, kinds) => {
    expect(dueCalls(stateOf(), question(phase, nowMin))).toEqual(kinds);
  });

  it('want no hurry once the mix is spread', () => {
    expect(dueCalls(stateOf({ spreadAt: minute(3) }), question('wet', 5))).toEqual([]);
  });

  it('want hurry by the tin’s working time where there is no estimate', () => {
    expect(dueCalls(stateOf(), question('wet', 3.5, estimateOf(NO_TIMES)))).toEqual(['spreadBy']);
  });

  it.each([
    ['unspread with a window', null, estimateOf(), [6, 4.5, 22]],
    ['spread with a window', minute(3), estimateOf(), [6, 22]],
    ['spread without a window', minute(3), estimateOf(NO_TIMES), [5]],
  ])('turn at the instants of a batch that is %s', (_, spreadAt, estimate, minutes) => {
    const turns = turningInstants(stateOf({ spreadAt }), { estimate, card: BODY_FILLER, settings: alerts });
    expect(turns).toEqual(minutes.map((afterMin) => minute(afterMin)));
  });

  it('turn again a minute after a call that was taken back, and when a hold is over', () => {
    const at = (afterMin: number) => ({ sinceAt: minute(afterMin), isPresent: false });
    const alert = { id: 'b1.test.1', acknowledgedAt: null, movedFromAt: null, movedToAt: null };
    const turns = turningInstants(
      stateOf({
        spreadAt: minute(3),
        alerts: [
          { ...alert, kind: 'test', raisedAt: minute(22), withdrawnAt: minute(22.2) },
          { ...alert, kind: 'spreadBy', raisedAt: minute(4), withdrawnAt: null },
        ],
        watch: {
          steeringSequence: stateOf().steeringSequence,
          toldP50At: minute(20),
          signs: { slowing: at(9), tooCold: { ...at(5), isPresent: true } },
        },
      }),
      { estimate: estimateOf(), card: BODY_FILLER, settings: alerts },
    );
    expect(turns).toEqual([6, 22, 23, 14].map((afterMin) => minute(afterMin)));
  });
});
