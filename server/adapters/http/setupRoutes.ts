// Setup by HTTP: settings, products and sensors.
import { type Request, type Response, Router } from 'express';
import {
  parseWith,
  previewCardBody,
  putCardBody,
  putSensorBody,
  putSettingsBody,
} from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { SetupAnswer } from '../../application/ports/setupDoors.ts';
import { sendBackup } from './backupRoute.ts';
import { makeCopyRoutes } from './copyRoutes.ts';
import { parseAsk } from './parseAsk.ts';
import { sendProblem, sendRejections, sendStale, sendUnknown } from './problem.ts';

/** Makes the routes of Setup. */
export function makeSetupRoutes(doors: Doors): Router {
  const router = Router();
  router.get('/settings', async (_request, response) => void response.json(await doors.readSettings()));
  router.put('/settings', async (request, response) => {
    const ask = parseAsk(request, putSettingsBody);
    if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
    sendSetup(response, await doors.putSettings(ask.value), 'settings');
  });
  router.post('/cards/previews', (request, response) => previewCard(doors, request, response));
  router.get('/cards/:id', async (request, response) => {
    const card = await doors.readCard(request.params['id']);
    if (card === null) sendUnknown(response, 'card');
    else response.json(card);
  });
  router.put('/cards/:id', async (request, response) => {
    const ask = parseAsk(request, putCardBody);
    if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
    sendSetup(response, await doors.putCard(request.params['id'], ask.value), 'card');
  });
  router.put('/sensors/:id', async (request, response) => {
    const ask = parseAsk(request, putSensorBody);
    if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
    sendSetup(response, await doors.putSensor(request.params['id'], ask.value), 'sensor');
  });
  router.get('/backup', (_request, response) => sendBackup(doors, response));
  router.use(makeCopyRoutes(doors));
  return router;
}

function previewCard(doors: Doors, request: Request, response: Response): void {
  const parsed = parseWith(previewCardBody, request.body);
  if (parsed.kind === 'rejected') return sendRejections(response, parsed.rejections);
  const preview = doors.previewCard(parsed.value);
  if (preview.kind === 'rejected') sendRejections(response, preview.rejections);
  else response.json(preview.preview);
}

function sendSetup<Body>(response: Response, answer: SetupAnswer<Body>, what: string): void {
  switch (answer.kind) {
    case 'done':
      response.status(answer.isNew ? 201 : 200).json(answer.body);
      return;
    case 'rejected':
      return sendRejections(response, answer.rejections);
    case 'stale':
      return sendStale(response, answer);
    case 'unknown':
      return sendUnknown(response, what);
    case 'key-reused':
      sendProblem(response, 422, { code: 'key-reused', detail: 'This key was used for another request.' });
  }
}
