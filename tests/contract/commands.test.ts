// What people may ask: every field of a start and of each command, wrong in every way, with an answer they can use.
import { describe, expect, it } from 'vitest';
import {
  batchCommandBody,
  type Instant,
  instantFromIso,
  parseWith,
  startBatchBody,
} from '../../server/contract/index.ts';

const ISO = '2026-01-12T07:00:00Z';
const ISO_AT = instantFromIso(ISO) as Instant;
const ISO_ALLOWED = `ISO 8601 with a zone, such as ${ISO}`;
const ID_ALLOWED = 'letters, digits, - : . _ (first one a letter or digit)';

const START = {
  cardId: 'body-filler',
  panel: 'Left front door',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
};

/** What is told of a body, as "path: reason (allowed)"; nothing when it is taken. */
function told(schema: typeof startBatchBody | typeof batchCommandBody, input: unknown): string[] {
  const parsed = parseWith<unknown>(schema, input);
  if (parsed.kind === 'parsed') return [];
  return parsed.rejections.map(({ path, reason, allowed }) => `${path}: ${reason} (${allowed})`);
}

type Wrong = readonly [value: unknown, reason: string, allowed: string];

/** The ways in which a field of a kind can be wrong. */
const wrongId: readonly Wrong[] = [
  [7, 'is not a text', 'a text'],
  [null, 'is not a text', 'a text'],
  ['', 'is too short', 'at least 1 character'],
  ['x'.repeat(65), 'is too long', 'at most 64 characters'],
  ['bay 1', 'has a character that an identifier may not have', ID_ALLOWED],
  ['-bay', 'has a character that an identifier may not have', ID_ALLOWED],
  ['bay/1', 'has a character that an identifier may not have', ID_ALLOWED],
];
const wrongName: readonly Wrong[] = [
  [7, 'is not a text', 'a text'],
  [{}, 'is not a text', 'a text'],
  ['   ', 'is too short', 'at least 1 character'],
  ['x'.repeat(81), 'is too long', 'at most 80 characters'],
];
const wrongInitials: readonly Wrong[] = [
  [7, 'is not a text', 'a text'],
  ['', 'is too short', 'at least 1 character'],
  ['ABCDEFGHI', 'is too long', 'at most 8 characters'],
];
const wrongInstant: readonly Wrong[] = [
  [ISO_AT, 'is not a text', ISO_ALLOWED],
  ['now', 'has the wrong form', ISO_ALLOWED],
  ['2026-01-12T07:00:00', 'has the wrong form', ISO_ALLOWED],
  ['2026-02-30T07:00:00Z', 'has the wrong form', ISO_ALLOWED],
  ['2026-01-12T24:00:00Z', 'has the wrong form', ISO_ALLOWED],
];
const wrongFlag: readonly Wrong[] = [
  ['true', 'is not true or false', 'true or false'],
  [1, 'is not true or false', 'true or false'],
];
const wrongCount: readonly Wrong[] = [
  ['1', 'is not a number', 'a number'],
  [1.5, 'is not a whole number', 'a whole number'],
  [0, 'is too small', 'at least 1'],
];
const wrongChoice = (allowed: string): readonly Wrong[] => [
  ['other', 'is not one of the choices', allowed],
  [7, 'is not one of the choices', allowed],
  [null, 'is not one of the choices', allowed],
];
const wrongNumber = ({ min, max, unit }: { min: number; max: number; unit: string }): readonly Wrong[] => {
  const allowed = `${min} … ${max} ${unit}`;
  return [
    [String(min), 'is not a number', allowed],
    [null, 'is not a number', allowed],
    [Number.NaN, 'is not a number', allowed],
    [Number.POSITIVE_INFINITY, 'is not a number', allowed],
    [min - 0.001, 'is too small', allowed],
    [max + 0.001, 'is too large', allowed],
  ];
};

const startFields: readonly (readonly [field: string, wrongs: readonly Wrong[]])[] = [
  ['cardId', wrongId],
  ['panel', wrongName],
  ['repairOrder', wrongName],
  ['promisedAt', wrongInstant],
  ['remainingWorkMin', wrongNumber({ min: 0, max: 10_080, unit: 'min' })],
  ['bayId', wrongId],
  ['thicknessMm', wrongNumber({ min: 0.1, max: 12, unit: 'mm' })],
  ['substrate', wrongChoice('steel, aluminium, plastic')],
  ['hardenerPct', wrongNumber({ min: 0.5, max: 5, unit: '%' })],
  ['weighed', wrongFlag],
  ['underlayMm', wrongNumber({ min: 0, max: 12, unit: 'mm' })],
  ['mixedAt', wrongInstant],
  ['rolledInAt', wrongInstant],
  ['outdoorTemperatureC', wrongNumber({ min: -40, max: 60, unit: '°C' })],
  ['panelTemperatureC', wrongNumber({ min: -40, max: 120, unit: '°C' })],
  ['by', wrongInitials],
];

const commands = {
  markSpread: { type: 'markSpread' },
  recordCheck: { type: 'recordCheck', outcome: 'gums' },
  finishSanding: { type: 'finishSanding' },
  scrap: { type: 'scrap' },
  moveToBay: { type: 'moveToBay', bayId: 'bay-2' },
  switchLamp: { type: 'switchLamp', lampId: 'lamp-1', forMin: 10 },
  undo: { type: 'undo', factSequence: 7 },
} as const;

const everyCommand = Object.keys(commands) as (keyof typeof commands)[];

const ownFields: readonly (readonly [keyof typeof commands, string, readonly Wrong[]])[] = [
  ['recordCheck', 'outcome', wrongChoice('gums, powders')],
  ['recordCheck', 'firstTry', wrongFlag],
  ['moveToBay', 'bayId', wrongId],
  ['switchLamp', 'lampId', wrongId],
  ['switchLamp', 'distanceCm', wrongNumber({ min: 10, max: 200, unit: 'cm' })],
  ['switchLamp', 'forMin', wrongNumber({ min: 0, max: 240, unit: 'min' })],
  ['undo', 'factSequence', wrongCount],
];
const sharedFields = [
  ['at', wrongInstant],
  ['expectedVersion', wrongCount],
  ['by', wrongInitials],
] as const;
const commandFields = [
  ...ownFields,
  ...everyCommand.flatMap((type) => sharedFields.map(([field, wrongs]) => [type, field, wrongs] as const)),
];

describe('a start', () => {
  it('is taken with what it must have', () => {
    expect(parseWith(startBatchBody, START)).toEqual({ kind: 'parsed', value: START });
  });

  it('is taken with all that it may have, names trimmed and instants read', () => {
    const more = {
      repairOrder: ' RO 4711 ',
      promisedAt: ISO,
      remainingWorkMin: 90,
      hardenerPct: 2.5,
      weighed: true,
      underlayMm: 1,
      mixedAt: ISO,
      rolledInAt: ISO,
      outdoorTemperatureC: -5,
      panelTemperatureC: 8,
      by: ' AB ',
    };
    const read = {
      repairOrder: 'RO 4711',
      promisedAt: ISO_AT,
      mixedAt: ISO_AT,
      rolledInAt: ISO_AT,
      by: 'AB',
    };
    expect(parseWith(startBatchBody, { ...START, ...more })).toEqual({
      kind: 'parsed',
      value: { ...START, ...more, ...read },
    });
  });

  it.each(startFields.flatMap(([field, wrongs]) => wrongs.map((wrong) => [field, ...wrong] as const)))(
    'is told that %s of %j %s',
    (field, value, reason, allowed) => {
      expect(told(startBatchBody, { ...START, [field]: value })).toEqual([
        `${field}: ${reason} (${allowed})`,
      ]);
    },
  );

  it.each(startFields.filter(([field]) => !(field in START)))('may leave out %s', (field) => {
    expect(told(startBatchBody, { ...START, [field]: undefined })).toEqual([]);
  });

  it('is told of everything that is missing at once', () => {
    expect(told(startBatchBody, {})).toEqual([
      'cardId: is missing (a text)',
      'panel: is missing (a text)',
      'bayId: is missing (a text)',
      'thicknessMm: is missing (0.1 … 12 mm)',
      'substrate: is missing (steel, aluminium, plastic)',
    ]);
  });

  it('is told of fields that it does not have', () => {
    expect(told(startBatchBody, { ...START, thicknessIn: 0.1, stage: 'wet' })).toEqual([
      'thicknessIn: is not a field of this body (leave it out)',
      'stage: is not a field of this body (leave it out)',
    ]);
  });

  it.each([null, 7, 'mix', [[START]]])('is told that it is not an object when it is %j', (input) => {
    expect(told(startBatchBody, input)).toEqual([': is not an object (an object)']);
  });

  it('is told that it is missing when there is no body', () => {
    expect(told(startBatchBody, undefined)).toEqual([': is missing (an object)']);
  });
});

describe('a command', () => {
  it.each(everyCommand)('is taken as %s, alone and with who, when and which version', (type) => {
    const body = commands[type];
    expect(parseWith(batchCommandBody, body)).toEqual({ kind: 'parsed', value: body });
    expect(parseWith(batchCommandBody, { ...body, at: ISO, expectedVersion: 3, by: 'AB' })).toEqual({
      kind: 'parsed',
      value: { ...body, at: ISO_AT, expectedVersion: 3, by: 'AB' },
    });
  });

  it.each([
    { ...commands.recordCheck, outcome: 'powders', firstTry: true },
    { ...commands.switchLamp, distanceCm: 80 },
    { ...commands.switchLamp, forMin: 0 },
  ])('is taken as %j', (body) => {
    expect(parseWith(batchCommandBody, body)).toEqual({ kind: 'parsed', value: body });
  });

  it.each(
    commandFields.flatMap(([type, field, wrongs]) => wrongs.map((wrong) => [type, field, ...wrong] as const)),
  )('%s is told that %s of %j %s', (type, field, value, reason, allowed) => {
    expect(told(batchCommandBody, { ...commands[type], [field]: value })).toEqual([
      `${field}: ${reason} (${allowed})`,
    ]);
  });

  it.each([
    ['recordCheck', ['outcome: is missing (gums, powders)']],
    ['moveToBay', ['bayId: is missing (a text)']],
    ['switchLamp', ['lampId: is missing (a text)', 'forMin: is missing (0 … 240 min)']],
    ['undo', ['factSequence: is missing (a number)']],
  ])('%s is told of what is missing', (type, lines) => {
    expect(told(batchCommandBody, { type })).toEqual(lines);
  });

  it.each(everyCommand)('%s is told of a field that it does not have', (type) => {
    expect(told(batchCommandBody, { ...commands[type], thicknessMm: 2 })).toEqual([
      'thicknessMm: is not a field of this body (leave it out)',
    ]);
  });

  it.each([{}, { type: 'paint' }, { type: 7 }, { type: null }])(
    'is told of the kinds there are by %j',
    (input) => {
      expect(told(batchCommandBody, input)).toEqual([
        'type: is not one of the choices (markSpread, recordCheck, finishSanding, scrap, moveToBay, switchLamp, undo)',
      ]);
    },
  );

  it.each([null, 7, 'scrap', [[commands.scrap]]])(
    'is told that it is not an object when it is %j',
    (input) => {
      expect(told(batchCommandBody, input)).toEqual([': is not an object (an object)']);
    },
  );
});

describe('what is told', () => {
  it('never speaks of the code behind it', () => {
    const bodies = startFields.flatMap(([field, wrongs]) =>
      wrongs.map(([value]) => ({ ...START, [field]: value })),
    );
    const asked = commandFields.flatMap(([type, field, wrongs]) =>
      wrongs.map(([value]) => ({ ...commands[type], [field]: value })),
    );
    const lines = [
      ...bodies.flatMap((body) => told(startBatchBody, body)),
      ...asked.flatMap((body) => told(batchCommandBody, body)),
    ];
    expect(lines.length).toBeGreaterThan(bodies.length);
    for (const line of lines)
      expect(line).not.toMatch(/\b(zod|string|int|boolean|undefined|enum|regex|expected|invalid)\b/i);
  });
});
