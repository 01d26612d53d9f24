// The descriptions of access's calls.
import { z } from 'zod';
import type { ZodOpenApiObject, ZodOpenApiOperationObject, ZodOpenApiPathsObject } from 'zod-openapi';
import {
  accessSchema,
  accessSetupSchema,
  deviceNameBody,
  pairBody,
  pairingBody,
  pairingSchema,
  passphraseBody,
  sensorPasswordSchema,
  sensorUserBody,
  sensorUserTopicsBody,
  signInBody,
} from '../../contract/index.ts';
import { idPath, json, problem, reading } from './openApiParts.ts';

/** How a call shows its right; where there is no sign-in none is asked. */
export const accessSecurity: Pick<ZodOpenApiObject, 'components' | 'security'> = {
  components: {
    securitySchemes: {
      device: { type: 'apiKey', in: 'cookie', name: 'sandby_device' },
      manager: { type: 'apiKey', in: 'cookie', name: 'sandby_session' },
      sensor: { type: 'http', scheme: 'basic', description: 'for POST /readings alone' },
    },
  },
  security: [{}, { device: [] }, { manager: [] }],
};

const namePath = z.object({ name: z.string() });
const nothing = z.object({});

/** Pairing, signing in, and what managers set. Without sign-in there is only `/access`. */
export function accessPaths(): ZodOpenApiPathsObject {
  return {
    '/access': { get: reading('Who asks, and what they may', accessSchema) },
    '/access/pair': { post: act('Pairs this device by a code; answers with its cookie', { body: pairBody }) },
    '/access/sign-in': { post: act('Signs a manager in; answers with a cookie', { body: signInBody }) },
    '/access/sign-out': { post: act('Ends this session', { body: nothing }) },
    '/access/passphrase': {
      post: act('A new passphrase; every other session ends', { body: passphraseBody }),
    },
    '/access/setup': {
      get: reading('Devices, sessions, users of sensors, who came and went', accessSetupSchema),
    },
    '/access/pairings': {
      post: act('A code that pairs one device within ten minutes', {
        body: pairingBody,
        status: '201',
        answer: pairingSchema,
      }),
    },
    '/access/devices/{id}': { put: act('Renames a device', { body: deviceNameBody, path: idPath }) },
    '/access/devices/{id}/end': { post: act('Ends a device at once', { body: nothing, path: idPath }) },
    '/access/sessions/{id}/end': { post: act('Ends a session at once', { body: nothing, path: idPath }) },
    '/access/sensor-users': {
      post: act('A user for sensors or displays; its password is told this once', {
        body: sensorUserBody,
        status: '201',
        answer: sensorPasswordSchema,
      }),
    },
    '/access/sensor-users/{name}': {
      put: act('Whose readings a user may send', { body: sensorUserTopicsBody, path: namePath }),
    },
    '/access/sensor-users/{name}/password': {
      post: act('A new password, told this once', {
        body: nothing,
        path: namePath,
        answer: sensorPasswordSchema,
      }),
    },
    '/access/sensor-users/{name}/end': {
      post: act('Ends a user at once', { body: nothing, path: namePath }),
    },
  };
}

interface Act {
  readonly body: z.ZodType;
  readonly path?: z.ZodObject;
  readonly status?: '200' | '201';
  readonly answer?: z.ZodType;
}

/** A call that writes without a key: its answer may carry a secret, which is kept nowhere. */
function act(
  summary: string,
  { body, path, status = '200', answer = nothing }: Act,
): ZodOpenApiOperationObject {
  return {
    summary,
    ...(path === undefined ? {} : { requestParams: { path } }),
    requestBody: { required: true, content: json(body) },
    responses: { [status]: { description: summary, content: json(answer) }, default: problem },
  };
}
