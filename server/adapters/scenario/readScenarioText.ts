// Reads a scenario file or standard input, to a bound.
import { createReadStream } from 'node:fs';

/** Largest file [bytes]; a week of readings every few seconds fits many times. */
export const FILE_BYTES_MAX = 33_554_432;

export type ReadText =
  { readonly kind: 'read'; readonly text: string } | { readonly kind: 'unreadable'; readonly reason: string };

/** The text of a file; "-" is standard input. Pipes and devices are read like files, so the bound is kept while reading. */
export async function readScenarioText(file: string): Promise<ReadText> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    const stream = file === '-' ? process.stdin : createReadStream(file);
    for await (const chunk of stream) {
      chunks.push(chunk as Buffer);
      size += (chunk as Buffer).length;
      if (size > FILE_BYTES_MAX) {
        return { kind: 'unreadable', reason: `is larger than ${FILE_BYTES_MAX} bytes` };
      }
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? 'error';
    return { kind: 'unreadable', reason: `cannot be read (${code})` };
  }
  try {
    return { kind: 'read', text: new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks)) };
  } catch {
    return { kind: 'unreadable', reason: 'is not UTF-8' };
  }
}
