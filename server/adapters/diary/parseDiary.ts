// From the text of a diary's line to what happened then, or to the first thing that is wrong with it.
import {
  type BatchCommand,
  BODY_BYTES_MAX,
  batchCommandBody,
  type Instant,
  type Parsed,
  parseReadings,
  parseWith,
  type Reading,
  type Rejection,
  type StartBatch,
  startBatchBody,
} from '../../contract/index.ts';
import { diaryHeadSchema, diaryTruthSchema, diaryTypeSchema, diaryUndoSchema } from './diarySchema.ts';

/** What a line says: air, an act of a person, or what only a simulation knows. */
export type DiaryLine =
  | { readonly kind: 'reading'; readonly at: Instant; readonly reading: Reading }
  | { readonly kind: 'start'; readonly at: Instant; readonly label: string; readonly body: StartBatch }
  | { readonly kind: 'act'; readonly at: Instant; readonly label: string; readonly command: DiaryCommand }
  | {
      readonly kind: 'truth';
      readonly at: Instant;
      readonly label: string;
      /** When the batch was really ready; null when it never was. */
      readonly readyAt: Instant | null;
    };

/** An undo that names no fact takes back the latest act of its batch. */
export type DiaryCommand =
  BatchCommand | (Pick<BatchCommand, 'by' | 'expectedVersion'> & { readonly type: 'undoLatest' });

export type ParsedLine =
  | { readonly kind: 'parsed'; readonly line: DiaryLine }
  | { readonly kind: 'rejected'; readonly rejection: Rejection };

/** Parses one line; strictly, since a slip in a field's name would be another day than the one that was. */
export function parseDiary(text: string): ParsedLine {
  const json = parseJson(text);
  if (json.kind === 'rejected') return json;
  const head = parseWith(diaryHeadSchema, json.input);
  if (head.kind === 'rejected') return rejectFirst(head);
  const { at, kind } = head.value;
  const { kind: _kind, ...input } = json.input;
  switch (kind) {
    case 'reading':
      return parseReading(input, at);
    case 'command':
      return parseCommand(input, at);
    case 'truth': {
      const truth = parseWith(diaryTruthSchema, input);
      if (truth.kind === 'rejected') return rejectFirst(truth);
      const { batch, readyAt } = truth.value;
      return { kind: 'parsed', line: { kind: 'truth', at, label: batch, readyAt } };
    }
  }
}

type Input = Readonly<Record<string, unknown>>;

function parseJson(
  text: string,
): { readonly kind: 'json'; readonly input: Input } | Extract<ParsedLine, { kind: 'rejected' }> {
  if (Buffer.byteLength(text) > BODY_BYTES_MAX) return rejected(TOO_LONG);
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch (error) {
    return rejected({
      path: '',
      reason: `is not JSON (${(error as Error).message})`,
      allowed: 'a JSON object',
    });
  }
  if (typeof input !== 'object' || input === null || Array.isArray(input))
    return rejected({ path: '', reason: 'is not an object', allowed: 'a JSON object' });
  return { kind: 'json', input: input as Input };
}

function parseReading(input: Input, at: Instant): ParsedLine {
  const parsed = parseReadings(input, { format: 'plain', topicSensorId: null, nowAt: at });
  if (parsed.kind === 'rejected') return rejectFirst(parsed);
  return { kind: 'parsed', line: { kind: 'reading', at, reading: parsed.value[0] as Reading } };
}

/** The line's `at` is when it was done, and the clock stands there: the command itself needs none. */
function parseCommand(input: Input, at: Instant): ParsedLine {
  const head = parseWith(diaryTypeSchema, input);
  if (head.kind === 'rejected') return rejectFirst(head);
  const { batch: label, type } = head.value;
  const { at: _at, batch: _batch, ...command } = input;
  if (type === 'startBatch') {
    const { type: _type, ...body } = command;
    const start = parseWith(startBatchBody, body);
    if (start.kind === 'rejected') return rejectFirst(start);
    return { kind: 'parsed', line: { kind: 'start', at, label, body: start.value } };
  }
  const isLatest = type === 'undo' && !Object.hasOwn(command, 'factSequence');
  const act = isLatest ? parseUndoLatest(command) : parseWith(batchCommandBody, command);
  if (act.kind === 'rejected') return rejectFirst(act);
  return { kind: 'parsed', line: { kind: 'act', at, label, command: act.value } };
}

function parseUndoLatest(input: Input): Parsed<DiaryCommand> {
  const undo = parseWith(diaryUndoSchema, input);
  return undo.kind === 'rejected' ? undo : { kind: 'parsed', value: { ...undo.value, type: 'undoLatest' } };
}

function rejectFirst({ rejections }: { readonly rejections: readonly Rejection[] }): ParsedLine {
  const [first] = rejections;
  if (first === undefined) throw new Error('what was rejected has a rejection');
  return rejected(first);
}

function rejected(rejection: Rejection): Extract<ParsedLine, { kind: 'rejected' }> {
  return { kind: 'rejected', rejection };
}

/** A line that no field of it could fill. */
export const TOO_LONG: Rejection = {
  path: '',
  reason: 'is too long',
  allowed: `at most ${BODY_BYTES_MAX} bytes`,
};
