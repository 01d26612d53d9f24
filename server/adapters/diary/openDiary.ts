// A diary's lines, as often as they are asked for: read anew from a file, held in memory where that cannot be.
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { BODY_BYTES_MAX, type Rejection } from '../../contract/index.ts';
import { TOO_LONG } from './parseDiary.ts';

/** A line that is not blank, counted from 1 with the blank ones; or what keeps it from being one. */
export type DiaryText = { readonly lineIndex: number } & (
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'rejected'; readonly rejection: Rejection }
);

export interface Diary {
  /** From the first line on, at each call; ends with the first line that is none. */
  readLines(): AsyncIterable<DiaryText>;
}

/** A diary that cannot be read at all; the message is one line. */
export class DiaryError extends Error {
  override readonly name = 'DiaryError';
}

/** Most that is held of a pipe [bytes]; years of readings each minute fit. */
const HELD_BYTES_MAX = 2 ** 28;

/** Opens a diary; "-" is standard input. Pipes can be read only once, so they are held. */
export async function openDiary(file: string): Promise<Diary> {
  if (file === '-') return heldDiary(await hold(file, process.stdin));
  const isFile = await stat(file).then(
    (found) => found.isFile(),
    (error: unknown) => throwUnreadable(file, error),
  );
  if (!isFile) return heldDiary(await hold(file, createReadStream(file)));
  return { readLines: () => linesOf(readable(file)) };
}

function heldDiary(chunks: readonly Buffer[]): Diary {
  return { readLines: () => linesOf(chunks) };
}

async function hold(file: string, stream: AsyncIterable<unknown>): Promise<Buffer[]> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    for await (const chunk of stream) {
      chunks.push(chunk as Buffer);
      size += (chunk as Buffer).length;
      if (size > HELD_BYTES_MAX) break;
    }
  } catch (error) {
    throwUnreadable(file, error);
  }
  if (size > HELD_BYTES_MAX) throw new DiaryError(`${file}: is larger than ${HELD_BYTES_MAX} bytes`);
  return chunks;
}

async function* readable(file: string): AsyncGenerator<Buffer> {
  try {
    for await (const chunk of createReadStream(file)) yield chunk as Buffer;
  } catch (error) {
    throwUnreadable(file, error);
  }
}

function throwUnreadable(file: string, error: unknown): never {
  const code = (error as NodeJS.ErrnoException).code ?? 'error';
  throw new DiaryError(`${file}: cannot be read (${code})`, { cause: error });
}

const NEWLINE_CODE = 0x0a;
const utf8 = new TextDecoder('utf-8', { fatal: true });

async function* linesOf(chunks: AsyncIterable<Buffer> | Iterable<Buffer>): AsyncGenerator<DiaryText> {
  let lineIndex = 0;
  let rest: Buffer = Buffer.alloc(0);
  for await (const chunk of chunks) {
    const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    let from = 0;
    for (let end = bytes.indexOf(NEWLINE_CODE); end !== -1; end = bytes.indexOf(NEWLINE_CODE, from)) {
      lineIndex += 1;
      const line = lineFrom(bytes.subarray(from, end), lineIndex);
      if (line !== null) yield line;
      if (line?.kind === 'rejected') return;
      from = end + 1;
    }
    rest = bytes.subarray(from);
    if (rest.length > BODY_BYTES_MAX) break;
  }
  const last = lineFrom(rest, lineIndex + 1);
  if (last !== null) yield last;
}

/** Null for a blank line, which says nothing. */
function lineFrom(bytes: Buffer, lineIndex: number): DiaryText | null {
  if (bytes.length > BODY_BYTES_MAX) return { kind: 'rejected', lineIndex, rejection: TOO_LONG };
  try {
    const text = utf8.decode(bytes);
    return text.trim() === '' ? null : { kind: 'text', lineIndex, text };
  } catch {
    return { kind: 'rejected', lineIndex, rejection: { path: '', reason: 'is not UTF-8', allowed: 'UTF-8' } };
  }
}
