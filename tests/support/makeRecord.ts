// A record as the wire carries it: a door in the cold that gummed once, for tests of tables and screens.
import type { RecordWire } from '../../server/contract/index.ts';

const MIXED_AT = Date.parse('2026-01-12T07:00:00Z');

/** An instant some minutes after mixing, as text. */
export function recordMinute(afterMin: number): string {
  return new Date(MIXED_AT + afterMin * 60_000).toISOString();
}

/** A closed record with what is given in place of it. */
export function makeRecord(changes: Partial<RecordWire> = {}): RecordWire {
  return {
    id: 'batch-1',
    stage: 'sanded',
    repairOrder: '4711',
    promisedAt: null,
    panel: 'Left front door',
    cardId: 'body-filler',
    cardName: 'Body filler',
    thicknessMm: 2,
    hardenerPct: 2,
    weighed: false,
    underlayMm: 0,
    substrate: 'steel',
    stays: [
      { bayId: 'bay-1', bayName: 'Bay 1', fromAt: recordMinute(0) },
      { bayId: 'bay-2', bayName: 'Bay 2', fromAt: recordMinute(8) },
    ],
    lamps: [],
    air: { mixingC: -3.46, whileCuringMinC: -3.5, whileCuringMaxC: 11.24, humidityMixingPct: 55.4 },
    mixedAt: recordMinute(0),
    spreadAt: recordMinute(4),
    testAlertAt: recordMinute(26),
    sandingAt: recordMinute(27),
    closedAt: recordMinute(40),
    window: {
      p10At: recordMinute(20),
      p50At: recordMinute(25),
      p90At: recordMinute(33),
      kickedAt: recordMinute(6),
      buildP50At: recordMinute(20),
      edgeP50At: recordMinute(25),
      testFromAt: recordMinute(29),
      cardMin: 17.5,
      expectedMin: 25,
      reasons: [
        { code: 'edge', minutes: 0.2 },
        { code: 'bay-cold', minutes: 7.31, bayId: 'bay-1', airTemperatureC: -3.5 },
      ],
      notes: [],
      supported: true,
    },
    checks: [
      { at: recordMinute(21), outcome: 'gums', firstTry: null, by: 'AB' },
      { at: recordMinute(27), outcome: 'powders', firstTry: false, by: 'CD' },
    ],
    said: {
      firstCheckAt: recordMinute(21),
      outcome: 'gums',
      probability: 0.2013,
      powderedAt: recordMinute(27),
      afterP50Min: 2,
      place: 'inside',
    },
    by: { mixed: 'AB', spread: null, closed: 'CD', everyone: ['AB', 'CD'] },
    cautions: { acknowledgedAt: recordMinute(0), by: 'AB' },
    ...changes,
  };
}
