// A folder that is gone after the test.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** The path of a file that does not exist yet, in a new folder. */
export function newFile(): string {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-ledger-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return join(folder, 'shop.db');
}
