// A store that is damaged is not opened: what would be read of it is not what was written.
import { closeSync, existsSync, fstatSync, openSync, readSync, statSync } from 'node:fs';

/** The message is one sentence that names what is damaged. */
export class StoreDamage extends Error {
  override readonly name = 'StoreDamage';
}

/** Whether an error says that the file is damaged, or was no database to begin with: https://sqlite.org/rescode.html */
export function isDamage(cause: unknown): boolean {
  if (cause instanceof StoreDamage) return true;
  if (!(cause instanceof Error) || !('errcode' in cause) || typeof cause.errcode !== 'number') return false;
  return DAMAGE_CODES.has(cause.errcode & 0xff);
}

/**
 * Throws StoreDamage for a file that ends before its own header says it does. To be asked before the file is opened as a
 * database: a process that opens and closes it by other means lets go of SQLite's locks on it.
 */
export function assertUncut(file: string): void {
  // What has not yet come from the log into the file may be missing from it by right.
  const logBytes = existsSync(`${file}-wal`) ? statSync(`${file}-wal`).size : 0;
  if (!existsSync(file) || logBytes > 0) return;
  const { head, sizeBytes } = readHead(file);
  if (sizeBytes < HEADER_BYTES) return;
  const pageBytes = head.readUInt16BE(16) === 1 ? 65_536 : head.readUInt16BE(16);
  const isCountKnown = head.readUInt32BE(24) === head.readUInt32BE(92);
  const wantedBytes = pageBytes * head.readUInt32BE(28);
  if (isCountKnown && sizeBytes < wantedBytes) {
    throw new StoreDamage(`the file is cut short: ${sizeBytes} of ${wantedBytes} bytes are there`);
  }
}

function readHead(file: string): { head: Buffer; sizeBytes: number } {
  const handle = openSync(file, 'r');
  try {
    const head = Buffer.alloc(HEADER_BYTES);
    const found = fstatSync(handle);
    // What is no file at all is refused in better words when it is opened as one.
    if (!found.isFile()) return { head, sizeBytes: 0 };
    readSync(handle, head, { length: HEADER_BYTES, position: 0 });
    return { head, sizeBytes: found.size };
  } finally {
    closeSync(handle);
  }
}

/** Of an SQLite file, https://sqlite.org/fileformat.html section 1.3 */
const HEADER_BYTES = 100;

const DAMAGE_CODES: ReadonlySet<number> = new Set([
  11, // SQLITE_CORRUPT
  26, // SQLITE_NOTADB
]);
