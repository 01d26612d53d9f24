// What leaves the pages, by HTTP: phones that subscribe, and what Setup shows and asks of webhooks, phones and dead letters.
import { type Request, type Response, Router } from 'express';
import { z } from 'zod';
import { type DeliveryAsk, deliveryAskBody, endpointBody, subscribeBody } from '../../contract/index.ts';
import type { NotifyDoors } from '../../application/ports/notifyDoors.ts';
import { parseAsk } from './parseAsk.ts';
import { sendProblem, sendRejections, sendUnknown } from './problem.ts';

/** Calls that say all in their path. */
const nothingBody = z.strictObject({});

/** Makes the routes. */
export function makeNotifyRoutes(doors: NotifyDoors): Router {
  const router = Router();
  router.get('/push', async (_request, response) => void response.json(await doors.readPushKey()));
  router.post('/subscriptions', (request, response) => subscribe(doors, request, response));
  router.post('/subscriptions/end', async (request, response) => {
    const ask = parseAsk(request, endpointBody);
    if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
    await doors.unsubscribeEndpoint(ask.value.body.endpoint);
    response.status(204).end();
  });
  router.get('/notifications', async (_request, response) => {
    response.json(await doors.readNotifications());
  });
  router.post('/subscriptions/:id/end', (request, response) =>
    answerPlain({ request, response, what: 'phone' }, async (id) =>
      (await doors.unsubscribe(id)) ? {} : null,
    ),
  );
  router.post('/subscriptions/:id/trial', (request, response) =>
    answerPlain({ request, response, what: 'phone' }, (id) => doors.sendTrial(`push:${id}`)),
  );
  router.post('/webhooks/:id/secret', (request, response) =>
    answerPlain({ request, response, what: 'webhook' }, (id) => doors.renewSecret(id)),
  );
  router.post('/webhooks/:id/trial', (request, response) =>
    answerPlain({ request, response, what: 'webhook' }, (id) => doors.sendTrial(`webhook:${id}`)),
  );
  router.post('/deliveries/again', (request, response) =>
    settleDelivery({ request, response }, (ask) => doors.repeatDelivery(ask)),
  );
  router.post('/deliveries/forget', (request, response) =>
    settleDelivery({ request, response }, (ask) => doors.forgetDelivery(ask)),
  );
  return router;
}

async function subscribe(doors: NotifyDoors, request: Request, response: Response): Promise<void> {
  const ask = parseAsk(request, subscribeBody);
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  const id = await doors.subscribe(ask.value.body, request.access.deviceId);
  if (id !== null) response.status(201).json({ id });
  else
    sendProblem(response, 409, {
      code: 'too-many-phones',
      detail: 'No more phones can be kept: end one in Setup.',
    });
}

async function settleDelivery(
  { request, response }: { request: Request; response: Response },
  act: (ask: DeliveryAsk) => Promise<boolean>,
): Promise<void> {
  const ask = parseAsk(request, deliveryAskBody);
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  if (await act(ask.value.body)) response.json({});
  else sendUnknown(response, 'delivery');
}

async function answerPlain(
  { request, response, what }: { request: Request; response: Response; what: string },
  act: (id: string) => Promise<object | null>,
): Promise<void> {
  const ask = parseAsk(request, nothingBody, request.body ?? {});
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  const answer = await act(String(request.params['id']));
  if (answer === null) sendUnknown(response, what);
  else response.json(answer);
}
