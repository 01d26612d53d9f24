// One valid input for each door, to be broken.

/** A body for each call that takes one. */
export const BODIES = [
  {
    method: 'POST',
    path: '/readings',
    body: { sensorId: 'bay-1-air', at: '2026-01-12T07:00:00Z', airTemperatureC: 20, relativeHumidityPct: 50 },
  },
  { method: 'POST', path: '/readings', body: [{ sensorId: 'bay-1-air', panelTemperatureC: 18 }] },
  {
    method: 'POST',
    path: '/batches',
    body: {
      cardId: 'body-filler',
      panel: 'Roof',
      repairOrder: '4711',
      promisedAt: '2026-01-12T12:00:00Z',
      remainingWorkMin: 60,
      bayId: 'bay-1',
      thicknessMm: 0.5,
      substrate: 'steel',
      hardenerPct: 2,
      weighed: true,
      underlayMm: 0,
      mixedAt: '2026-01-12T07:00:00Z',
      outdoorTemperatureC: 3,
      by: 'AB',
    },
  },
  ...[
    { type: 'markSpread', at: '2026-01-12T07:01:00Z', expectedVersion: 1, by: 'AB' },
    { type: 'recordCheck', outcome: 'powders', firstTry: true },
    { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: 5 },
    { type: 'moveToBay', bayId: 'bay-2' },
    { type: 'undo', factSequence: 5 },
  ].map((body) => ({ method: 'POST', path: '/batches/batch-1/commands', body })),
  { method: 'POST', path: '/alerts/batch-1.test.1/acknowledgement', body: { by: 'AB' } },
  { method: 'POST', path: '/previews', body: { batchId: 'batch-1', bayId: 'bay-2', airTemperatureC: 12 } },
  {
    method: 'POST',
    path: '/cards/previews',
    body: {
      name: 'Filler',
      fill: 'regular',
      atC: 20,
      thicknessMm: 1,
      hardenerPct: 2,
      workingMin: 5,
      sandMin: 17.5,
      lowestC: 10,
      thicknessMaxMm: 6,
    },
  },
  {
    method: 'PUT',
    path: '/settings',
    body: {
      shop: { name: 'My shop', timeZone: 'Europe/Madrid', units: { temperature: 'C' } },
      alerts: { waitingMin: 15, spreadByS: 90 },
      people: [{ initials: 'AB', name: 'Ana', active: true }],
      bays: [{ id: 'bay-1', name: 'Bay 1', kind: 'bay' }],
    },
  },
  {
    method: 'PUT',
    path: '/cards/own',
    body: {
      expectedVersion: 0,
      name: 'Own',
      fill: 'light',
      atC: 20,
      thicknessMm: 1,
      hardenerPct: 2,
      workingMin: 5,
      sandMin: 17.5,
      lowestC: 10,
      thicknessMaxMm: 6,
      activationKJPerMol: 46,
    },
  },
  {
    method: 'PUT',
    path: '/sensors/bay-1-air',
    body: { bayId: 'bay-2', name: 'By the door', airTemperatureOffsetK: 0.3 },
  },
] as const;

/** A SenML pack (RFC 8428 §5.1 in form). */
export const SENML_PACK = [
  { bn: 'bay-1-air:', bt: 1_768_201_200, bu: 'Cel', bver: 10, n: 'temperature', v: 20.5 },
  { n: 'humidity', u: '%RH', v: 50, t: -5 },
];

/** Queries of the calls that only read. */
export const QUERIES = [
  {
    path: '/bays/bay-1/air',
    query: { from: '2026-01-12T06:00:00Z', to: '2026-01-12T08:00:00Z', stepMin: '5' },
  },
  {
    path: '/bays/bay-1/cost',
    query: {
      from: '2026-01-12T06:00:00Z',
      to: '2026-01-12T08:00:00Z',
      heatFrom: '6',
      heatTo: '10',
      heatC: '18',
    },
  },
  { path: '/records', query: { from: '2026-01-12', to: '2026-01-13', limit: '5', text: 'roof' } },
  { path: '/records.csv', query: { cardId: 'body-filler' } },
  { path: '/batches', query: { open: 'true' } },
] as const;

export const DIARY_LINES = [
  {
    at: '2026-01-12T07:00:00Z',
    kind: 'reading',
    sensorId: 'bay-1-air',
    airTemperatureC: 12.1,
    relativeHumidityPct: 55,
  },
  {
    at: '2026-01-12T07:00:00Z',
    kind: 'command',
    batch: 'b1',
    type: 'startBatch',
    cardId: 'body-filler',
    panel: 'Roof',
    bayId: 'bay-1',
    thicknessMm: 2,
    substrate: 'steel',
  },
  { at: '2026-01-12T07:30:00Z', kind: 'command', batch: 'b1', type: 'recordCheck', outcome: 'gums' },
  { at: '2026-01-12T07:31:00Z', kind: 'command', batch: 'b1', type: 'undo' },
  { at: '2026-01-12T07:32:00Z', kind: 'truth', batch: 'b1', readyAt: null },
] as const;
