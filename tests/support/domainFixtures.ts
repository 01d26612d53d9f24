// Cards, facts, states, estimates and air for the tests of the domain, and given / when / then for its decisions.
import { expect } from 'vitest';
import shipped from '../../config/cards.json' with { type: 'json' };
import {
  type BatchCommand,
  type Instant,
  instantFromIso,
  REFUSAL_CODES,
  type RefusalCode,
} from '../../server/contract/index.ts';
import type { AlertSettings } from '../../server/domain/alertRules.ts';
import type { AirPoint, BayAir } from '../../server/domain/airSeries.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import type { Card, CardStated } from '../../server/domain/card.ts';
import { decideCommand, type Decision } from '../../server/domain/decideCommand.ts';
import { foldBatch } from '../../server/domain/evolveBatch.ts';
import type {
  BatchId,
  BatchInputs,
  Estimate,
  Fact,
  FactBodies,
  FactDraft,
  FactType,
  Sequence,
} from '../../server/domain/facts.ts';
import type { AirOfBays } from '../../server/domain/filmJob.ts';
import type { Lamp } from '../../server/domain/lamp.ts';
import { calibrateCard } from '../../server/engine/index.ts';

export const BATCH_ID = 'b1' as BatchId;
export const MIXED_AT = instantFromIso('2026-01-12T07:00:00Z') as Instant;
export const BAY_IDS = ['bay-1', 'bay-2', 'yard'];
export const LAMP: Lamp = {
  id: 'lamp-1',
  name: 'Short wave',
  distances: [
    { distanceCm: 60, fluxWPerM2: 900 },
    { distanceCm: 80, fluxWPerM2: 600 },
    { distanceCm: 120, fluxWPerM2: 300 },
  ],
};

/** Alert rules as design PRODUCT §4 has them. */
export const ALERT_SETTINGS: AlertSettings = {
  spreadByS: 90,
  waitingMin: 15,
  slowingMin: 3,
  slowingPct: 20,
  sensorQuietMin: 10,
};

/** The instant some minutes after mixing. */
export function minute(afterMin: number): Instant {
  return Math.round(MIXED_AT + afterMin * 60_000) as Instant;
}

/** A shipped card, calibrated by the engine. */
export function cardOf(id: string, stated: Partial<CardStated> = {}): Card {
  const found = shipped.cards.find((card) => card.id === id);
  if (found === undefined) throw new Error(`no shipped card ${id}`);
  const card: CardStated = {
    ...found,
    fill: found.fill === 'light' ? 'light' : 'regular',
    activationKJPerMol: 46,
    inductionActivationKJPerMol: 50,
    humidityEffectPer10Pct: 0,
    ...stated,
  };
  const calibrated = calibrateCard(card);
  if (calibrated.kind === 'rejected') throw new Error(JSON.stringify(calibrated.rejections));
  return { ...card, constants: calibrated.constants };
}

export const BODY_FILLER = cardOf('body-filler');

/** A fact of the batch some minutes after mixing. */
export function fact<T extends FactType>(
  type: T,
  afterMin: number,
  body: FactBodies[T],
  more: { by?: string; recordedMin?: number } = {},
): Placeable {
  const draft = {
    type,
    version: 1,
    at: minute(afterMin),
    by: more.by ?? null,
    batchId: BATCH_ID,
    bayId: 'bay-1',
    body,
  };
  return { draft: draft as FactDraft, recordedAt: minute(more.recordedMin ?? afterMin) };
}

export interface Placeable {
  readonly draft: FactDraft;
  readonly recordedAt: Instant;
}

/** A plain start: 2 mm of body filler on steel in bay 1, with what is given in place of it. */
export function started(inputs: Partial<BatchInputs> = {}, by = 'AB'): Placeable {
  const body: BatchInputs = {
    cardId: 'body-filler',
    panel: 'Left front door',
    repairOrder: null,
    promisedAt: null,
    remainingWorkMin: null,
    bayId: 'bay-1',
    thicknessMm: 2,
    substrate: 'steel',
    hardenerPct: 2,
    weighed: false,
    underlayMm: 0,
    mixedAt: MIXED_AT,
    rolledInAt: null,
    outdoorTemperatureC: null,
    panelTemperatureC: null,
    ...inputs,
  };
  return fact('BatchStarted', 0, body, { by });
}

/** Facts as the ledger gives them: numbered from the first on. */
export function place(placeables: readonly Placeable[], afterSequence = 0): Fact[] {
  return placeables.map(({ draft, recordedAt }, index) => ({
    ...draft,
    sequence: (afterSequence + 1 + index) as Sequence,
    recordedAt,
  }));
}

/** What the ledger makes of decided facts at an instant. */
export function placeDrafts(
  facts: readonly Fact[],
  drafts: readonly FactDraft[],
  recordedAt: Instant,
): Fact[] {
  const placeables = drafts.map((draft) => ({ draft, recordedAt }));
  return [...facts, ...place(placeables, facts.at(-1)?.sequence ?? 0)];
}

/** The state after these facts. */
export function stateAfter(...placeables: Placeable[]): BatchState {
  return foldBatch(place(placeables)) as BatchState;
}

/** A plain start with some fields of its state replaced. */
export function stateOf(parts: Partial<BatchState> = {}): BatchState {
  return { ...stateAfter(started()), ...parts };
}

/** An estimate of the plainest kind: kicks after 6 min, P10/P50/P90 at 16, 20 and 25 min, worth testing from 22 on. */
export function estimateOf(parts: Partial<Estimate> = {}): Estimate {
  return {
    modelVersion: '1',
    learnedVersion: 0,
    computedAt: MIXED_AT,
    supported: true,
    spreadUntilAt: minute(6),
    kickedAt: minute(6),
    p10At: minute(16),
    p50At: minute(20),
    p90At: minute(25),
    buildP50At: minute(15),
    edgeP50At: minute(20),
    testFromAt: minute(22),
    cardMin: 19.5,
    expectedMin: 20,
    reasons: [{ code: 'edge', minutes: 4.5 }],
    notes: [],
    airTemperatureC: 20,
    airAt: MIXED_AT,
    ...parts,
  };
}

/** An estimate that knows no time. */
export const NO_TIMES = {
  spreadUntilAt: null,
  kickedAt: null,
  p10At: null,
  p50At: null,
  p90At: null,
  buildP50At: null,
  edgeP50At: null,
  testFromAt: null,
} as const;

/** Decided estimates as facts: which phase the batch is in. */
export function estimated(
  afterMin: number,
  phase: 'wet' | 'kicked' | 'test',
  parts: Partial<Estimate> = {},
): Placeable {
  return fact('EstimateChanged', afterMin, { estimate: estimateOf(parts), phase });
}

/** A series of [minute after mixing, measurement]. */
export function series(...points: readonly (readonly [afterMin: number, measurement: number])[]): AirPoint[] {
  return points.map(([afterMin, measurement]) => ({ at: minute(afterMin), measurement }));
}

/** Air that stays the same, told every ten minutes from six hours before mixing until an hour after. */
export function steadyAir(airC: number, humidityPct: number | null = 50, untilMin = 60): BayAir {
  const minutes = Array.from({ length: (360 + untilMin) / 10 + 1 }, (_, index) => index * 10 - 360);
  return {
    air: series(...minutes.map((afterMin) => [afterMin, airC] as const)),
    humidity:
      humidityPct === null ? [] : series(...minutes.map((afterMin) => [afterMin, humidityPct] as const)),
  };
}

/** The bays of a shop: those without air have none, and the outside is the yard. */
export function baysOf(airs: Readonly<Record<string, BayAir>>, moving: readonly string[] = []): AirOfBays {
  const airOf = (bayId: string): BayAir => airs[bayId] ?? { air: [], humidity: [] };
  return { airOf, isAirMoving: (bayId) => moving.includes(bayId), outside: airOf('yard').air };
}

interface When {
  readonly accepts: (...facts: readonly FactSummary[]) => void;
  readonly refuses: (code: RefusalCode, sentence?: RegExp) => void;
  readonly decision: Decision;
}

/** A fact in short: its type, its body and when it happened. */
export type FactSummary = readonly [type: FactType, body?: object | undefined, afterMin?: number];

/** Given these facts, when a person asks at a minute, then facts or a refusal follow. */
export function given(...placeables: readonly Placeable[]): {
  when: (command: BatchCommand, nowMin: number, card?: Card) => When;
} {
  return {
    when: (command, nowMin, card = BODY_FILLER) => {
      const facts = place(placeables);
      const decision = decideCommand(foldBatch(facts) as BatchState, command, {
        card,
        nowAt: minute(nowMin),
        bayIds: BAY_IDS,
        lamps: [LAMP],
        facts,
      });
      return {
        decision,
        accepts: (...wanted) => expectFacts(decision, wanted),
        refuses: expectRefusal(decision),
      };
    },
  };
}

function expectFacts(decision: Decision, wanted: readonly FactSummary[]): void {
  expect(decision).toMatchObject({
    kind: 'accepted',
    facts: wanted.map(([type, body, afterMin]) => ({
      type,
      ...(body === undefined ? {} : { body }),
      ...(afterMin === undefined ? {} : { at: minute(afterMin) }),
    })),
  });
}

function expectRefusal(decision: Decision): When['refuses'] {
  return (code, sentence) => {
    expect(decision).toMatchObject({ kind: 'refused', refusal: { code } });
    expectUsable(decision);
    if (decision.kind === 'refused' && sentence !== undefined)
      expect(decision.refusal.sentence).toMatch(sentence);
  };
}

/** A refusal has a code of the closed list and one sentence for people. */
export function expectUsable(decision: Decision): void {
  if (decision.kind === 'accepted') return;
  expect(REFUSAL_CODES).toContain(decision.refusal.code);
  expect(decision.refusal.sentence).toMatch(/^[A-Z"][^\n]*\.$/);
}

/** Draws that are the same for the same seed. */
export interface Draws {
  /** 0 … 1 (mulberry32). */
  readonly even: () => number;
  /** Standard normal (Box and Muller). */
  readonly normal: () => number;
}

export function drawsFrom(seed: number): Draws {
  let state = seed;
  const even = (): number => {
    state = (state + 0x6d_2b_79_f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even());
  return { even, normal };
}
