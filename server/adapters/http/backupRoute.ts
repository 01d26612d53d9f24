// A copy of the whole shop as a download, made for it.
import type { Response } from 'express';
import type { Doors } from '../../application/ports/doors.ts';
import { PortFailure } from '../../application/ports/portFailure.ts';
import { sendBusy, sendCopy, sendNoFile, sendNotCopied } from './copyRoutes.ts';
import { sendProblem } from './problem.ts';

/** GET /backup. The whole copy is there before anything is sent: one that cannot be made is a problem, not half a file. */
export async function sendBackup(doors: Doors, response: Response): Promise<void> {
  const backup = await doors.makeBackup().catch((error: unknown) => {
    if (error instanceof PortFailure) return { kind: 'unknown' } as const;
    throw error;
  });
  switch (backup.kind) {
    case 'made':
      return sendCopy(response, { copy: backup.copy, name: `sandby-${backup.day}.sqlite` });
    case 'busy':
      return sendBusy(response);
    case 'no-file':
      return sendNoFile(response);
    case 'failed':
      return sendNotCopied(response, backup);
    case 'unknown':
      sendProblem(response, 503, {
        code: 'backup-failed',
        detail: 'No copy could be made; the disk may be full. Nothing was changed.',
      });
  }
}
