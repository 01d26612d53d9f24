// Long work on whole files that the server has done elsewhere: copying a live store, and looking through one.
import type { NotCopied } from '../../../application/ports/storeCopier.ts';
import type { CopyTrouble } from '../../../contract/index.ts';
import { checkStoreFile, type StoreVerdict } from './checkStoreFile.ts';
import { type CopyAsk, copyStoreFile } from './copyStoreFile.ts';

/** What came of it; the sentence names no path. */
export type WorkVerdict = StoreVerdict | NotDone;

interface NotDone {
  readonly kind: 'failed';
  readonly code: Exclude<CopyTrouble, 'damaged'>;
  readonly sentence: string;
}

export interface StoreWork {
  copy(ask: CopyAsk): Promise<WorkVerdict>;
  check(file: string): Promise<WorkVerdict>;
  /** Ends what is under way: it answers unfinished. */
  stop(): void;
}

/** The work done in this very process: what the other process runs, and what tests do without one. */
export const ownStoreWork: StoreWork = {
  copy: async (ask) => {
    try {
      return await copyStoreFile(ask);
    } catch (cause) {
      return notDone(cause);
    }
  },
  check: async (file) => checkStoreFile(file),
  stop: () => undefined,
};

/** What came of a copy that is not sound, as the shop tells it. */
export function notCopied(verdict: Exclude<WorkVerdict, { kind: 'sound' }>): NotCopied {
  const code = verdict.kind === 'failed' ? verdict.code : 'damaged';
  return { kind: 'failed', code, detail: verdict.sentence };
}

/** Says in words why a file could not be written. */
export function notDone(cause: unknown): NotDone {
  const code = codeOf(cause);
  if (NO_ROOM.has(code)) {
    return { kind: 'failed', code: 'no-room', sentence: 'there is no room for it on the disk' };
  }
  return { kind: 'failed', code: 'not-written', sentence: `it could not be written (${code})` };
}

/** An error's code as the system or SQLite (https://sqlite.org/rescode.html) has it. */
function codeOf(cause: unknown): string {
  if (!(cause instanceof Error)) return 'no reason given';
  if ('errcode' in cause && typeof cause.errcode === 'number') return `SQLite ${cause.errcode & 0xff}`;
  return 'code' in cause ? String(cause.code) : cause.name;
}

const NO_ROOM: ReadonlySet<string> = new Set(['ENOSPC', 'EDQUOT', 'SQLite 13']);
