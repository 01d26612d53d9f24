// What may be read by HTTP: thin routes over the doors, each with its query parsed.
import { type Request, type Response, Router } from 'express';
import { z } from 'zod';
import { instantFromIso, instantFromMs, parseWith } from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import { readCost } from './costRoute.ts';
import { sendProblem, sendRejections, sendUnknown } from './problem.ts';
import { makeRecordRoutes } from './recordRoutes.ts';

const batchesQuery = z.strictObject({ open: z.enum(['true', 'false']).optional() });
const STEP_MAX_MIN = 1440;
const airQuery = z.strictObject({
  from: z.iso.datetime({ offset: true }).optional(),
  to: z.iso.datetime({ offset: true }).optional(),
  stepMin: z
    .string()
    .refine((text) => /^\d+(\.\d+)?$/.test(text) && Number(text) <= STEP_MAX_MIN, {
      error: 'is not a number of minutes',
      params: { allowed: `0 … ${STEP_MAX_MIN}` },
    })
    .optional(),
});
/** A chart without a span shows the last day. */
const SPAN_DEFAULT_MS = 24 * 60 * 60_000;

/** Makes the routes that only read. */
export function makeReadRoutes(doors: Doors): Router {
  const router = Router();
  router.get('/health', async (_request, response) => {
    const health = await doors.readHealth();
    response.status(health.parts.ledger === 'ok' ? 200 : 503).json(health);
  });
  router.get('/snapshot', async (_request, response) => void response.json(await doors.readSnapshot()));
  router.get(
    '/alerts',
    async (_request, response) => void response.json({ alerts: await doors.readAlerts() }),
  );
  router.get('/bays', async (_request, response) => void response.json({ bays: await doors.readBays() }));
  router.get('/bays/:id/air', (request, response) => readAir(doors, request, response));
  router.get('/bays/:id/cost', (request, response) => readCost(doors, request, response));
  router.get('/cards', async (_request, response) => void response.json({ cards: await doors.readCards() }));
  router.get('/reliability', async (_request, response) => void response.json(await doors.readReliability()));
  router.get('/plan', async (_request, response) => void response.json(await doors.readPlan()));
  router.use(makeRecordRoutes(doors));
  router.get('/batches', (request, response) => readBatches(doors, request, response));
  router.get('/batches/:id', async (request, response) => {
    const batch = await doors.readBatch(request.params['id']);
    if (batch === null) sendUnknown(response, 'batch');
    else response.json(batch);
  });
  router.get('/sensors', async (_request, response) => {
    response.json({ sensors: await doors.readSensors(), refused: doors.readRefusedPayloads() });
  });
  router.get('/sensors/:id', async (request, response) => {
    const sensor = (await doors.readSensors()).find((one) => one.id === request.params['id']);
    if (sensor === undefined) sendUnknown(response, 'sensor');
    else response.json(sensor);
  });
  return router;
}

async function readBatches(doors: Doors, request: Request, response: Response): Promise<void> {
  const query = parseWith(batchesQuery, { ...request.query });
  if (query.kind === 'rejected') return sendRejections(response, query.rejections);
  response.json(await doors.readBatches({ openOnly: query.value.open === 'true' }));
}

async function readAir(doors: Doors, request: Request, response: Response): Promise<void> {
  const query = parseWith(airQuery, { ...request.query });
  if (query.kind === 'rejected') return sendRejections(response, query.rejections);
  const toAt = instantFromIso(query.value.to ?? '') ?? doors.nowAt();
  const fromAt =
    instantFromIso(query.value.from ?? '') ?? instantFromMs(Math.min(toAt, doors.nowAt()) - SPAN_DEFAULT_MS);
  if (fromAt > toAt) {
    return sendProblem(response, 400, {
      code: 'rejected',
      errors: [{ path: 'from', reason: 'lies after to', allowed: 'an instant not after to' }],
    });
  }
  const stepMin = Number(query.value.stepMin ?? 1);
  const columns = await doors.readAirHistory(String(request.params['id']), { fromAt, toAt, stepMin });
  if (columns === null) sendUnknown(response, 'bay');
  else response.json(columns);
}
