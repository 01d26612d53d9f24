// A batch, a snapshot and their parts as the wire carries them, for the page's tests.
import type { AlertWire, BatchWire, EstimateWire, SnapshotWire } from '../../server/contract/index.ts';

export const MIXED_AT = Date.parse('2026-01-12T07:00:00Z');

/** An instant some minutes after mixing, as text. */
export function minutesIn(afterMin: number): string {
  return new Date(MIXED_AT + afterMin * 60_000).toISOString();
}

/** An estimate of a batch mixed at 07:00: kicks after 6 min, test from minute 30. */
export function makeEstimate(changes: Partial<EstimateWire> = {}): EstimateWire {
  return {
    modelVersion: '1',
    learnedVersion: 0,
    computedAt: minutesIn(0),
    supported: true,
    spreadUntilAt: minutesIn(6),
    kickedAt: minutesIn(6.2),
    test: { p10At: minutesIn(20), p50At: minutesIn(25), p90At: minutesIn(33) },
    buildP50At: minutesIn(20),
    edgeP50At: minutesIn(25),
    testFromAt: minutesIn(30),
    probabilityNow: 0,
    cardMin: 16,
    expectedMin: 25,
    slowdown: 1.56,
    reasons: [],
    notes: [],
    ...changes,
  };
}

/** A wet batch of body filler on a door in Bay 2. */
export function makeBatch(changes: Partial<BatchWire> = {}): BatchWire {
  return {
    id: 'batch-1',
    version: 1,
    stage: 'wet',
    cardId: 'body-filler',
    panel: 'Left front door',
    repairOrder: '4711',
    promisedAt: null,
    remainingWorkMin: null,
    bayId: 'bay-2',
    thicknessMm: 2,
    substrate: 'steel',
    hardenerPct: 2,
    weighed: false,
    underlayMm: 0,
    rolledInAt: null,
    outdoorTemperatureC: null,
    panelTemperatureC: null,
    by: null,
    mixedAt: minutesIn(0),
    spreadAt: null,
    sandingAt: null,
    closedAt: null,
    checks: [],
    lamps: [],
    lastAct: null,
    estimate: makeEstimate(),
    ...changes,
  };
}

/** An open alert. */
export function makeAlert(changes: Partial<AlertWire> = {}): AlertWire {
  const { batchId = 'batch-1', bayId = 'bay-2', panel = 'Left front door', sensorId = null } = changes;
  return {
    id: 'alert-1',
    kind: 'test',
    to: ['bench'],
    people: [],
    folded: false,
    subjects: [{ batchId, bayId, panel, sensorId, by: null }],
    batchId,
    bayId,
    panel,
    sensorId,
    movedFromAt: null,
    movedToAt: null,
    raisedAt: minutesIn(30),
    acknowledgedAt: null,
    withdrawnAt: null,
    ...changes,
  };
}

/** A snapshot at sequence 10 with one batch and two bays. */
export function makeSnapshot(changes: Partial<SnapshotWire> = {}): SnapshotWire {
  return {
    ledgerId: 'ledger-1',
    sequence: 10,
    nowAt: minutesIn(1),
    rate: 1,
    shop: {
      name: 'Shop',
      timeZone: 'UTC',
      simulated: false,
      testProbabilityPct: 80,
      language: 'en',
      units: { temperature: 'C', length: 'mm', mass: 'g' },
      sound: true,
    },
    bays: [makeBay('bay-1'), makeBay('bay-2')],
    cards: [
      {
        id: 'body-filler',
        name: 'Body filler',
        fill: 'regular',
        atC: 20,
        thicknessMm: 1,
        hardenerPct: 2,
        workingMin: 5,
        sandMin: 17.5,
        lowestC: 10,
        beadGramsPer10Cm: null,
        learned: null,
      },
      {
        id: 'finishing-putty',
        name: 'Finishing putty',
        fill: 'regular',
        atC: 20,
        thicknessMm: 0.5,
        hardenerPct: 2.5,
        workingMin: 4.5,
        sandMin: 17.5,
        lowestC: 10,
        beadGramsPer10Cm: null,
        learned: null,
      },
    ],
    lamps: [],
    people: [],
    panels: ['Left front door'],
    batches: [makeBatch()],
    alerts: [],
    health: 'ok',
    troubles: [],
    outbox: 'ok',
    ...changes,
  };
}

function makeBay(id: string): SnapshotWire['bays'][number] {
  return {
    id,
    name: id === 'bay-1' ? 'Bay 1' : 'Bay 2',
    kind: 'bay',
    airTemperatureC: 13,
    relativeHumidityPct: 55,
    dewPointC: 4,
    at: minutesIn(0),
    ageS: 0,
    trust: 'good',
    sensorIds: [],
    substrate: 'steel',
  };
}
