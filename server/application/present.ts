// From state to the wire: instants become ISO text, and what depends on the present moment is filled in.
import {
  type AlertSubjectWire,
  type AlertWire,
  type BatchWire,
  type EstimateWire,
  type Instant,
  isoFromInstant,
  isoFromInstantOrNull,
} from '../contract/index.ts';
import type { ShopAlert } from '../domain/alertBook.ts';
import { AUDIENCES } from '../domain/alertRules.ts';
import type { Alert, BatchState } from '../domain/batch.ts';
import type { AlertSubject, Estimate, Fact } from '../domain/facts.ts';
import { probabilityAt } from '../domain/phase.ts';

/** A batch as the wire carries it, at an instant. */
export function presentBatch(state: BatchState, nowAt: Instant): BatchWire {
  return {
    id: state.id,
    version: state.version,
    stage: state.stage,
    cardId: state.cardId,
    panel: state.panel,
    repairOrder: state.repairOrder,
    promisedAt: isoFromInstantOrNull(state.promisedAt),
    remainingWorkMin: state.remainingWorkMin,
    bayId: state.bayId,
    thicknessMm: state.thicknessMm,
    substrate: state.substrate,
    hardenerPct: state.hardenerPct,
    weighed: state.weighed,
    underlayMm: state.underlayMm,
    rolledInAt: isoFromInstantOrNull(state.rolledInAt),
    outdoorTemperatureC: state.outdoorTemperatureC,
    panelTemperatureC: state.panelTemperatureC,
    by: state.by,
    mixedAt: isoFromInstant(state.mixedAt),
    spreadAt: isoFromInstantOrNull(state.spreadAt),
    sandingAt: isoFromInstantOrNull(state.sandingAt),
    closedAt: isoFromInstantOrNull(state.closedAt),
    checks: state.checks.map((check) => ({ ...check, at: isoFromInstant(check.at) })),
    lamps: state.lamps.map((spell) => ({
      ...spell,
      fromAt: isoFromInstant(spell.fromAt),
      untilAt: isoFromInstant(spell.untilAt),
    })),
    lastAct:
      state.lastAct === null
        ? null
        : { ...state.lastAct, recordedAt: isoFromInstant(state.lastAct.recordedAt) },
    estimate: state.estimate === null ? null : presentEstimate(state, state.estimate, nowAt),
  };
}

/** An estimate as the wire carries it, at an instant. */
export function presentEstimate(state: BatchState, estimate: Estimate, nowAt: Instant): EstimateWire {
  const { expectedMin, cardMin } = estimate;
  return {
    modelVersion: estimate.modelVersion,
    learnedVersion: estimate.learnedVersion,
    computedAt: isoFromInstant(estimate.computedAt),
    supported: estimate.supported,
    spreadUntilAt: isoFromInstantOrNull(estimate.spreadUntilAt),
    kickedAt: isoFromInstantOrNull(estimate.kickedAt),
    test: {
      p10At: isoFromInstantOrNull(estimate.p10At),
      p50At: isoFromInstantOrNull(estimate.p50At),
      p90At: isoFromInstantOrNull(estimate.p90At),
    },
    buildP50At: isoFromInstantOrNull(estimate.buildP50At),
    edgeP50At: isoFromInstantOrNull(estimate.edgeP50At),
    testFromAt: isoFromInstantOrNull(estimate.testFromAt),
    probabilityNow: probabilityAt(state, estimate, nowAt),
    cardMin,
    expectedMin,
    slowdown: expectedMin === null || cardMin === null ? null : expectedMin / cardMin,
    reasons: [...estimate.reasons],
    notes: [...estimate.notes],
  };
}

/** An alert as its view holds it: one of a batch with where it belongs, or one of the shop with its subjects. */
export type AlertView = ShopAlert | (Alert & Omit<AlertSubject, 'sensorId' | 'sinceAt'>);

/** The view of an alert of a batch. */
export function viewOfBatchAlert({ id, bayId, panel, by }: BatchState, alert: Alert): AlertView {
  return { ...alert, batchId: id, bayId, panel, by };
}

/** An alert as the wire carries it. */
export function presentAlert(alert: AlertView): AlertWire {
  const isOfShop = 'subjects' in alert;
  const subjects = isOfShop ? alert.subjects.map(presentSubject) : [presentSubject(alert)];
  const folded = isOfShop && alert.isFolded;
  const [only = NO_SUBJECT] = folded ? [] : subjects;
  const people = subjects.flatMap(({ by }) => by ?? []);
  const { batchId, bayId, panel, sensorId } = only;
  return {
    id: alert.id,
    kind: alert.kind,
    to: [...AUDIENCES[alert.kind]],
    // A batch of nobody's is everybody's.
    people: people.length < subjects.length ? [] : [...new Set(people)],
    folded,
    subjects,
    batchId,
    bayId,
    panel,
    sensorId,
    movedFromAt: isoFromInstantOrNull(alert.movedFromAt),
    movedToAt: isoFromInstantOrNull(alert.movedToAt),
    raisedAt: isoFromInstant(alert.raisedAt),
    acknowledgedAt: isoFromInstantOrNull(alert.acknowledgedAt),
    withdrawnAt: isoFromInstantOrNull(alert.withdrawnAt),
  };
}

const NO_SUBJECT: AlertSubjectWire = { batchId: null, panel: null, sensorId: null, bayId: null, by: null };

function presentSubject(subject: Partial<AlertSubject>): AlertSubjectWire {
  const { batchId = null, panel = null, sensorId = null, bayId = null, by = null } = subject;
  return { batchId, panel, sensorId, bayId, by };
}

/** A fact as the wire carries it: every field that ends in At is an instant. */
export function presentFact(fact: Fact): Record<string, unknown> {
  return withIsoInstants(fact) as Record<string, unknown>;
}

function withIsoInstants(value: unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => withIsoInstants(one));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [
      key,
      (key === 'at' || key.endsWith('At')) && typeof inner === 'number'
        ? isoFromInstant(inner as Instant)
        : withIsoInstants(inner),
    ]),
  );
}
