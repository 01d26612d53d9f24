// A diary's lines one by one, and what only shows among them: what is taken, and the one field that a bad line is told by.
import { describe, expect, it } from 'vitest';
import { makeDiaryJudge } from '../../../server/adapters/diary/judgeDiary.ts';
import { type DiaryLine, parseDiary } from '../../../server/adapters/diary/parseDiary.ts';
import {
  BODY_BYTES_MAX,
  type Instant,
  instantFromIso,
  type Rejection,
} from '../../../server/contract/index.ts';

const AT = '2026-01-12T07:00:00Z';
const at = instantFromIso(AT) as Instant;

const READING = { at: AT, kind: 'reading', sensorId: 'bay-1-air', airTemperatureC: 12.1 };
const START = {
  at: AT,
  kind: 'command',
  batch: 'b1',
  type: 'startBatch',
  cardId: 'body-filler',
  panel: 'Roof',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
};
const ACT = { at: AT, kind: 'command', batch: 'b1' };
const TRUTH = { at: AT, kind: 'truth', batch: 'b1', readyAt: '2026-01-12T07:30:00Z' };

function lineOf(input: object): DiaryLine {
  const parsed = parseDiary(JSON.stringify(input));
  if (parsed.kind === 'rejected') throw new Error(JSON.stringify(parsed.rejection));
  return parsed.line;
}

function rejectionOf(input: object | string): Rejection {
  const parsed = parseDiary(typeof input === 'string' ? input : JSON.stringify(input));
  if (parsed.kind === 'parsed') throw new Error(`was taken: ${JSON.stringify(parsed.line)}`);
  return parsed.rejection;
}

describe('a line of a diary', () => {
  it('is a reading as it comes by HTTP, at the instant of the line', () => {
    expect(lineOf({ ...READING, relativeHumidityPct: 102 })).toEqual({
      kind: 'reading',
      at,
      reading: { index: 0, sensorId: 'bay-1-air', at, airTemperatureC: 12.1, relativeHumidityPct: 100 },
    });
  });

  it('is a start with the body of its call, dated back where it says so', () => {
    const { at: _at, kind: _kind, batch: _batch, type: _type, ...body } = START;
    expect(lineOf(START)).toEqual({ kind: 'start', at, label: 'b1', body });
    expect(lineOf({ ...START, mixedAt: '2026-01-12T07:58:00+01:00', by: 'AB' })).toMatchObject({
      body: { mixedAt: at - 2 * 60_000, by: 'AB' },
    });
  });

  it.each([
    [{ type: 'markSpread' }, { type: 'markSpread' }],
    [
      { type: 'recordCheck', outcome: 'gums' },
      { type: 'recordCheck', outcome: 'gums' },
    ],
    [
      { type: 'recordCheck', outcome: 'powders', firstTry: true, by: 'AB' },
      { type: 'recordCheck', outcome: 'powders', firstTry: true, by: 'AB' },
    ],
    [{ type: 'finishSanding' }, { type: 'finishSanding' }],
    [
      { type: 'scrap', expectedVersion: 2 },
      { type: 'scrap', expectedVersion: 2 },
    ],
    [
      { type: 'moveToBay', bayId: 'bay-2' },
      { type: 'moveToBay', bayId: 'bay-2' },
    ],
    [
      { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 60, forMin: 10 },
      { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 60, forMin: 10 },
    ],
    [
      { type: 'undo', factSequence: 7 },
      { type: 'undo', factSequence: 7 },
    ],
    [
      { type: 'undo', by: 'AB' },
      { type: 'undoLatest', by: 'AB' },
    ],
  ])('is an act: %j', (input, command) => {
    expect(lineOf({ ...ACT, ...input })).toEqual({ kind: 'act', at, label: 'b1', command });
  });

  it('is the true instant of a batch, or that there was none', () => {
    expect(lineOf(TRUTH)).toEqual({ kind: 'truth', at, label: 'b1', readyAt: at + 30 * 60_000 });
    expect(lineOf({ ...TRUTH, readyAt: null })).toMatchObject({ readyAt: null });
  });

  it.each<[string, object | string, string, RegExp]>([
    ['broken JSON', '{"at": ', '', /^is not JSON/],
    ['two values', '{} {}', '', /^is not JSON/],
    ['a list', '[]', '', /^is not an object/],
    ['a bare word', 'null', '', /^is not an object/],
    ['a number', '7', '', /^is not an object/],
    [
      'a line without end',
      JSON.stringify({ ...READING, note: 'é'.repeat(BODY_BYTES_MAX / 2) }),
      '',
      /^is too long/,
    ],
    ['no instant', { ...READING, at: undefined }, 'at', /^is missing/],
    ['a bare date', { ...READING, at: '2026-01-12' }, 'at', /^has the wrong form/],
    ['an instant without a zone', { ...READING, at: '2026-01-12T07:00:00' }, 'at', /^has the wrong form/],
    ['epoch milliseconds', { ...READING, at }, 'at', /^is not a text/],
    ['no kind', { ...READING, kind: undefined }, 'kind', /^is missing/],
    ['an unknown kind', { ...READING, kind: 'note' }, 'kind', /^is not one of the choices/],
    ['a reading of nothing', { ...READING, airTemperatureC: undefined }, 'airTemperatureC', /^no measured/],
    ['a reading of nobody', { ...READING, sensorId: undefined }, 'sensorId', /^is missing/],
    ['air as text', { ...READING, airTemperatureC: '12' }, 'airTemperatureC', /^is not a number/],
    ['endless air', JSON.stringify(READING).replace('12.1', '1e999'), 'airTemperatureC', /^is not a number/],
    ['absurd air', { ...READING, airTemperatureC: 400 }, 'airTemperatureC', /^is too large/],
    ['an unknown quantity', { ...READING, airTemperatureF: 54 }, 'airTemperatureF', /^is not a field/],
    ['a reading with a batch', { ...READING, batch: 'b1' }, 'batch', /^is not a field/],
    ['a command without a batch', { ...START, batch: undefined }, 'batch', /^is missing/],
    ['an empty label', { ...START, batch: '' }, 'batch', /^is too short/],
    ['a number for a label', { ...ACT, type: 'markSpread', batch: 1 }, 'batch', /^is not a text/],
    ['no type', ACT, 'type', /^is missing/],
    ['an unknown type', { ...ACT, type: 'sand' }, 'type', /^is not one of the choices/],
    ['a start without a card', { ...START, cardId: undefined }, 'cardId', /^is missing/],
    ['a film too thick', { ...START, thicknessMm: 40 }, 'thicknessMm', /^is too large/],
    ['an unknown substrate', { ...START, substrate: 'wood' }, 'substrate', /^is not one of the choices/],
    ['a start with a slip', { ...START, thickness: 2 }, 'thickness', /^is not a field/],
    ['a check of no outcome', { ...ACT, type: 'recordCheck' }, 'outcome', /^is missing/],
    ['an act with a slip', { ...ACT, type: 'scrap', why: 'x' }, 'why', /^is not a field/],
    ['a lamp for days', { ...ACT, type: 'switchLamp', lampId: 'l', forMin: 9999 }, 'forMin', /^is too large/],
    ['an undo of no whole fact', { ...ACT, type: 'undo', factSequence: 1.5 }, 'factSequence', /./],
    ['an undo with a slip', { ...ACT, type: 'undo', sequence: 3 }, 'sequence', /^is not a field/],
    ['a truth without an instant', { ...TRUTH, readyAt: undefined }, 'readyAt', /^is missing/],
    ['a truth in minutes', { ...TRUTH, readyAt: 30 }, 'readyAt', /^is not a text/],
    ['a truth of nobody', { ...TRUTH, batch: undefined }, 'batch', /^is missing/],
  ])('is not taken with %s', (_what, input, path, reason) => {
    const rejection = rejectionOf(input);
    expect([rejection.path, rejection.reason]).toEqual([path, expect.stringMatching(reason)]);
    expect(rejection.allowed).not.toBe('');
  });

  it('names every choice of a type that is not known', () => {
    expect(rejectionOf({ ...ACT, type: 'sand' }).allowed).toBe(
      'startBatch, markSpread, recordCheck, finishSanding, scrap, moveToBay, switchLamp, undo',
    );
  });
});

describe('the lines of a diary', () => {
  const later = (input: object, iso: string): object => ({ ...input, at: iso });

  function judge(...inputs: object[]): (Rejection | null)[] {
    const judgeLine = makeDiaryJudge();
    return inputs.map((input) => judgeLine(lineOf(input)));
  }

  it('may share an instant, and speak of a batch from its start on', () => {
    const spread = later({ ...ACT, type: 'markSpread' }, '2026-01-12T07:03:00Z');
    expect(judge(READING, START, TRUTH, READING, spread)).toEqual([null, null, null, null, null]);
  });

  it.each<[string, object[], string, RegExp, RegExp]>([
    [
      'time that runs back',
      [READING, later(READING, '2026-01-12T06:59:59Z')],
      'at',
      /^lies before/,
      /07:00:00/,
    ],
    [
      'a year between',
      [READING, later(READING, '2028-01-12T07:00:00Z')],
      'at',
      /^lies more than 400/,
      /400 days/,
    ],
    [
      'a label that was never started',
      [{ ...ACT, type: 'scrap' }],
      'batch',
      /^"b1" was not started/,
      /startBatch/,
    ],
    ['the truth of nobody', [{ ...TRUTH, batch: 'x' }], 'batch', /^"x" was not started/, /startBatch/],
    ['a label started twice', [START, START], 'batch', /^"b1" was started above/, /once/],
    ['a truth told twice', [START, TRUTH, TRUTH], 'batch', /^"b1" has its truth above/, /once/],
    [
      'a truth before the mixing',
      [START, { ...TRUTH, readyAt: '2026-01-12T06:59:00Z' }],
      'readyAt',
      /^lies before the batch was mixed/,
      /07:00:00/,
    ],
  ])('are not taken with %s', (_what, inputs, path, reason, allowed) => {
    const judged = judge(...inputs);
    expect(judged.slice(0, -1)).toEqual(judged.slice(0, -1).map(() => null));
    expect(judged.at(-1)).toEqual({
      path,
      reason: expect.stringMatching(reason) as string,
      allowed: expect.stringMatching(allowed) as string,
    });
  });
});
