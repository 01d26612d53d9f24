// A copy of the whole shop as a download.
import { pipeline } from 'node:stream/promises';
import type { Response } from 'express';
import type { Doors } from '../../application/ports/doors.ts';
import { PortFailure } from '../../application/ports/portFailure.ts';
import { sendProblem } from './problem.ts';

/** GET /backup. The whole copy is there before anything is sent: one that cannot be made is a problem, not half a file. */
export async function sendBackup(doors: Doors, response: Response): Promise<void> {
  const backup = await doors.makeBackup().catch((error: unknown) => {
    if (error instanceof PortFailure) return { kind: 'failed' } as const;
    throw error;
  });
  if (backup.kind !== 'made') return sendNone(response, backup.kind);
  const { copy, day } = backup;
  response.set({
    'content-type': 'application/vnd.sqlite3',
    'content-length': String(copy.sizeBytes),
    'content-disposition': `attachment; filename="sandby-${day}.sqlite"`,
    'cache-control': 'no-store',
  });
  try {
    await pipeline(copy.content, response);
  } catch (error) {
    // Whoever goes away in the middle of it has changed their mind; that is no fault.
    if ((error as { code?: unknown }).code !== 'ERR_STREAM_PREMATURE_CLOSE') throw error;
  } finally {
    copy.letGo();
  }
}

function sendNone(response: Response, why: 'busy' | 'no-file' | 'failed'): void {
  switch (why) {
    case 'busy':
      return sendProblem(response, 409, {
        code: 'backup-running',
        detail: 'Another copy is being made. Try again when it is done.',
      });
    case 'no-file':
      return sendProblem(response, 501, {
        code: 'no-backup',
        detail: 'This shop is kept in memory only: there is no file to copy.',
      });
    case 'failed':
      sendProblem(response, 503, {
        code: 'backup-failed',
        detail: 'No copy could be made; the disk may be full. Nothing was changed.',
      });
  }
}
