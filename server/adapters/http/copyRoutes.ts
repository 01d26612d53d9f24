// Kept copies of the shop by HTTP: what there is, one more, and each as a download.
import { pipeline } from 'node:stream/promises';
import { type Response, Router } from 'express';
import { COPY_NAME, makeCopyBody } from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { NotCopied, StoreCopy } from '../../application/ports/storeCopier.ts';
import { parseAsk } from './parseAsk.ts';
import { sendProblem, sendRejections, sendUnknown } from './problem.ts';

/** Makes the routes of copies. */
export function makeCopyRoutes(doors: Doors): Router {
  const router = Router();
  router.get('/copies', async (_request, response) => {
    const copies = await doors.readCopies();
    if (copies === null) sendNoFile(response);
    else response.set('cache-control', 'no-store').json(copies);
  });
  router.post('/copies', async (request, response) => {
    const ask = parseAsk(request, makeCopyBody, request.body ?? {});
    if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
    await sendMade(doors, response, ask.value.key);
  });
  router.get('/copies/:name', async (request, response) => {
    const { name } = request.params;
    const copy = COPY_NAME.test(name) ? await doors.openKeptCopy(name) : null;
    if (copy === null) sendUnknown(response, 'copy');
    else await sendCopy(response, { copy, name });
  });
  return router;
}

/** Sends a copy's bytes under a name and lets go of it, whether somebody has read it to its end or not. */
export async function sendCopy(
  response: Response,
  { copy, name }: { copy: StoreCopy; name: string },
): Promise<void> {
  response.set({
    'content-type': 'application/vnd.sqlite3',
    'content-length': String(copy.sizeBytes),
    'content-disposition': `attachment; filename="${name}"`,
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

/** Sends that there is no file of which there could be a copy. */
export function sendNoFile(response: Response): void {
  sendProblem(response, 501, {
    code: 'no-backup',
    detail: 'This shop is kept in memory only: there is no file to copy.',
  });
}

/** Sends that another copy comes first. */
export function sendBusy(response: Response): void {
  sendProblem(response, 409, {
    code: 'backup-running',
    detail: 'Another copy is being made. Try again when it is done.',
  });
}

/** Sends why there is no copy. */
export function sendNotCopied(response: Response, { code, detail }: NotCopied): void {
  sendProblem(response, 503, {
    code: `copy-${code}`,
    detail: `No copy was made: ${detail}. What is there is as it was.`,
  });
}

async function sendMade(doors: Doors, response: Response, key: string): Promise<void> {
  const answer = await doors.makeCopy(key);
  switch (answer.kind) {
    case 'kept':
      response.status(201).json(answer.copy);
      return;
    case 'busy':
      return sendBusy(response);
    case 'no-file':
      return sendNoFile(response);
    case 'failed':
      return sendNotCopied(response, answer);
  }
}
