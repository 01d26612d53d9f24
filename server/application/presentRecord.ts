// From a record to the wire: instants become ISO text, and everything has the name by which the shop knows it.
import { isoFromInstant, isoFromInstantOrNull, type RecordWire } from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import type { Estimate } from '../domain/facts.ts';
import type { BatchRecord } from '../domain/record.ts';
import type { RecordAir } from '../domain/recordAir.ts';
import type { RecordNames } from '../domain/recordGroups.ts';

/** A record as the wire carries it. */
export function presentRecord(record: BatchRecord, air: RecordAir, names: RecordNames): RecordWire {
  const { state, window, said, cautions } = record;
  return {
    ...presentInputs(state, names),
    air: { ...air },
    spreadAt: isoFromInstantOrNull(state.spreadAt),
    testAlertAt: isoFromInstantOrNull(record.testAlertAt),
    sandingAt: isoFromInstantOrNull(state.sandingAt),
    closedAt: isoFromInstantOrNull(state.closedAt),
    window: window === null ? null : presentWindow(window),
    checks: state.checks.map((check) => ({ ...check, at: isoFromInstant(check.at) })),
    said:
      said === null
        ? null
        : {
            ...said,
            firstCheckAt: isoFromInstant(said.firstCheckAt),
            powderedAt: isoFromInstantOrNull(said.powderedAt),
          },
    by: {
      mixed: state.by,
      spread: record.spreadBy,
      closed: record.closedBy,
      everyone: [...record.initials],
    },
    cautions: { acknowledgedAt: isoFromInstant(cautions.acknowledgedAt), by: cautions.by },
  };
}

function presentInputs(
  state: BatchState,
  names: RecordNames,
): Pick<
  RecordWire,
  | 'id'
  | 'stage'
  | 'repairOrder'
  | 'promisedAt'
  | 'panel'
  | 'cardId'
  | 'cardName'
  | 'thicknessMm'
  | 'hardenerPct'
  | 'weighed'
  | 'underlayMm'
  | 'substrate'
  | 'stays'
  | 'lamps'
  | 'mixedAt'
> {
  return {
    id: state.id,
    stage: state.stage,
    repairOrder: state.repairOrder,
    promisedAt: isoFromInstantOrNull(state.promisedAt),
    panel: state.panel,
    cardId: state.cardId,
    cardName: names.cardName(state.cardId),
    thicknessMm: state.thicknessMm,
    hardenerPct: state.hardenerPct,
    weighed: state.weighed,
    underlayMm: state.underlayMm,
    substrate: state.substrate,
    stays: state.stays.map(({ bayId, fromAt }) => ({
      bayId,
      bayName: names.bayName(bayId),
      fromAt: isoFromInstant(fromAt),
    })),
    lamps: state.lamps.map((spell) => ({
      ...spell,
      fromAt: isoFromInstant(spell.fromAt),
      untilAt: isoFromInstant(spell.untilAt),
    })),
    mixedAt: isoFromInstant(state.mixedAt),
  };
}

function presentWindow(estimate: Estimate): NonNullable<RecordWire['window']> {
  return {
    p10At: isoFromInstantOrNull(estimate.p10At),
    p50At: isoFromInstantOrNull(estimate.p50At),
    p90At: isoFromInstantOrNull(estimate.p90At),
    kickedAt: isoFromInstantOrNull(estimate.kickedAt),
    buildP50At: isoFromInstantOrNull(estimate.buildP50At),
    edgeP50At: isoFromInstantOrNull(estimate.edgeP50At),
    testFromAt: isoFromInstantOrNull(estimate.testFromAt),
    cardMin: estimate.cardMin,
    expectedMin: estimate.expectedMin,
    reasons: [...estimate.reasons],
    notes: [...estimate.notes],
    supported: estimate.supported,
  };
}
