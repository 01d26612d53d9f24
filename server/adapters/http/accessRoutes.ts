// Access by HTTP: pairing, signing in and out, and what managers see and set. No answer is kept under a key, since some
// carry a secret; each of these acts may be done twice.
import { type Request, type Response, Router } from 'express';
import type { z } from 'zod';
import {
  type AccessWire,
  deviceNameBody,
  pairBody,
  pairingBody,
  parseWith,
  passphraseBody,
  sensorUserBody,
  sensorUserTopicsBody,
  signInBody,
} from '../../contract/index.ts';
import type { AccessDoors, Done, Origins, Tokens } from '../../application/ports/accessDoors.ts';
import { giveCookie, readTokens, takeCookie } from './cookies.ts';
import { sendLimited, sourceOf } from './guard.ts';
import { sendProblem, sendRejections, sendUnknown } from './problem.ts';

export interface AccessRouteParts {
  /** Null: no sign-in. */
  readonly access: AccessDoors | null;
  readonly origins: Origins;
  readonly tls: { readonly http: boolean; readonly mqtt: boolean };
  /** An address as rows of a QR code. */
  readonly drawCode: (text: string) => string[];
}

/** Makes the routes of access; without sign-in there is only the answer that there is none. */
export function makeAccessRoutes(parts: AccessRouteParts): Router {
  const { access, tls } = parts;
  const router = Router();
  if (access === null) {
    const open: AccessWire = {
      kind: 'open',
      right: 'manage',
      deviceName: null,
      signedIn: false,
      tls: tls.http,
      passphrase: false,
    };
    return router.get('/access', (_request, response) => void response.json(open));
  }
  return addRoutes(router, { ...parts, access });
}

type Parts = AccessRouteParts & { readonly access: AccessDoors };

function addRoutes(router: Router, parts: Parts): Router {
  const { access, tls } = parts;
  router.get('/access', async (request, response) => {
    response.set('Cache-Control', 'no-store');
    const { device } = tokensOf(parts, request);
    // Written anew, so that a device in use is never forgotten by its browser.
    if (request.access.deviceId !== null && device !== null)
      giveCookie(response, 'device', { token: device, tls: tls.http });
    response.json(await access.readAccess(request.access, tls.http));
  });
  router.post('/access/pair', (request, response) => receivePair(parts, request, response));
  router.post('/access/sign-in', (request, response) => receiveSignIn(parts, request, response));
  router.post('/access/sign-out', async (request, response) => {
    await access.signOut(request.access);
    takeCookie(response, 'session', tls.http);
    response.json({});
  });
  router.post('/access/passphrase', (request, response) => receivePassphrase(parts, request, response));
  router.get('/access/setup', async (request, response) => {
    response.set('Cache-Control', 'no-store').json({ ...(await access.readSetup(request.access)), tls });
  });
  router.post('/access/pairings', (request, response) => receivePairing(parts, request, response));
  addDevices(router, access);
  addSensorUsers(router, access);
  return router;
}

function addDevices(router: Router, access: AccessDoors): void {
  router.put('/access/devices/:id', async (request, response) => {
    const body = take(response, deviceNameBody, request.body);
    if (body !== null)
      sendDone(
        response,
        await access.renameDevice({ deviceId: request.params['id'], name: body.name }),
        'device',
      );
  });
  router.post('/access/devices/:id/end', async (request, response) => {
    sendDone(response, await access.endDevice(request.params['id']), 'device');
  });
  router.post('/access/sessions/:id/end', async (request, response) => {
    sendDone(response, await access.endSession(request.params['id']), 'session');
  });
}

function addSensorUsers(router: Router, access: AccessDoors): void {
  router.post('/access/sensor-users', async (request, response) => {
    const body = take(response, sensorUserBody, request.body);
    if (body === null) return;
    const made = await access.makeSensorUser(body);
    if (typeof made === 'string') sendDone(response, made, 'sensor-user');
    else response.set('Cache-Control', 'no-store').status(201).json(made);
  });
  router.put('/access/sensor-users/:name', async (request, response) => {
    const body = take(response, sensorUserTopicsBody, request.body);
    if (body === null) return;
    sendDone(response, await access.putSensorUser(request.params['name'], body.sensorIds), 'sensor-user');
  });
  router.post('/access/sensor-users/:name/password', async (request, response) => {
    const made = await access.renewPassword(request.params['name']);
    if (typeof made === 'string') sendDone(response, made, 'sensor-user');
    else response.set('Cache-Control', 'no-store').json(made);
  });
  router.post('/access/sensor-users/:name/end', async (request, response) => {
    sendDone(response, await access.endSensorUser(request.params['name']), 'sensor-user');
  });
}

async function receivePair(parts: Parts, request: Request, response: Response): Promise<void> {
  const body = take(response, pairBody, request.body);
  if (body === null) return;
  const tokens = tokensOf(parts, request);
  const paired = await parts.access.pair({ ...body, source: sourceOf(request), tokens });
  switch (paired.kind) {
    case 'paired':
      giveCookie(response, 'device', { token: paired.token, tls: parts.tls.http });
      response.json({});
      return;
    case 'limited':
      return sendLimited(response, paired);
    case 'refused':
      sendProblem(response, 403, {
        code: 'code-unknown',
        detail: 'No such code waits: it may have been used, or be older than ten minutes.',
      });
  }
}

async function receiveSignIn(parts: Parts, request: Request, response: Response): Promise<void> {
  const body = take(response, signInBody, request.body);
  if (body === null) return;
  const tokens = tokensOf(parts, request);
  const signed = await parts.access.signIn({ ...body, source: sourceOf(request), tokens });
  switch (signed.kind) {
    case 'signedIn':
      giveCookie(response, 'session', { token: signed.token, tls: parts.tls.http });
      response.json({});
      return;
    case 'limited':
      return sendLimited(response, signed);
    case 'none':
      return sendProblem(response, 403, {
        code: 'no-passphrase',
        detail: 'No passphrase was set yet: it is set at the shop computer, by npm run passphrase.',
      });
    case 'refused':
      sendProblem(response, 403, { code: 'passphrase-wrong', detail: 'That is not the passphrase.' });
  }
}

async function receivePassphrase(parts: Parts, request: Request, response: Response): Promise<void> {
  const body = take(response, passphraseBody, request.body);
  if (body === null) return;
  const changed = await parts.access.changePassphrase({
    ...body,
    source: sourceOf(request),
    standing: request.access,
  });
  if (changed.kind === 'limited') return sendLimited(response, changed);
  if (changed.kind === 'changed') response.json({});
  else sendProblem(response, 403, { code: 'passphrase-wrong', detail: 'That is not the passphrase.' });
}

function receivePairing({ access, origins, drawCode }: Parts, request: Request, response: Response): void {
  const body = take(response, pairingBody, request.body);
  if (body === null) return;
  const pairing = access.makePairing(body.right);
  if (pairing === null) {
    return sendProblem(response, 409, {
      code: 'too-many-codes',
      detail: 'Too many codes wait to be used; each ends after ten minutes.',
    });
  }
  const { code, validMin } = pairing;
  const address = `${origins.addressFor(request.get('host') ?? '')}/pair#${code}`;
  response
    .set('Cache-Control', 'no-store')
    .status(201)
    .json({ code, right: body.right, address, validMin, picture: drawCode(address) });
}

function take<T>(response: Response, schema: z.ZodType<T>, input: unknown): T | null {
  const parsed = parseWith(schema, input);
  if (parsed.kind === 'parsed') return parsed.value;
  sendRejections(response, parsed.rejections);
  return null;
}

function tokensOf({ tls }: Parts, request: Request): Tokens {
  return readTokens(request.headers, tls.http);
}

function sendDone(response: Response, done: Done, what: string): void {
  switch (done) {
    case 'done':
      response.json({});
      return;
    case 'unknown':
      return sendUnknown(response, what);
    case 'taken':
      return sendProblem(response, 409, { code: 'name-taken', detail: 'There is one of that name already.' });
    case 'full':
      sendProblem(response, 409, { code: 'too-many', detail: 'There are too many already.' });
  }
}
