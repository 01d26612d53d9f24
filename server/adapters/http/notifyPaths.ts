// The descriptions of the calls about what leaves the pages.
import { z } from 'zod';
import type { ZodOpenApiObject, ZodOpenApiOperationObject, ZodOpenApiPathsObject } from 'zod-openapi';
import {
  deliveryAskBody,
  endpointBody,
  notificationsSchema,
  pushKeySchema,
  secretSchema,
  subscribeBody,
  subscribedSchema,
  trialSchema,
  webhookMessageSchema,
} from '../../contract/index.ts';
import { idPath, json, problem, reading, writing } from './openApiParts.ts';

const nothing = z.strictObject({});

/** Phones, webhooks, and what did not get through. */
export function notifyPaths(): ZodOpenApiPathsObject {
  return {
    '/push': {
      get: reading('The key with which a browser subscribes to this shop (RFC 8292)', pushKeySchema),
    },
    '/subscriptions': {
      post: writing('Lets this phone be called while the page is closed', {
        body: subscribeBody,
        status: '201',
        answer: subscribedSchema,
        described: 'Kept; 409 when there are too many',
      }),
    },
    '/subscriptions/end': { post: endSubscription() },
    '/subscriptions/{id}/end': {
      post: writing('Calls a phone no more', {
        body: nothing,
        status: '200',
        path: idPath,
        answer: nothing,
        described: 'Done',
      }),
    },
    '/subscriptions/{id}/trial': { post: trial('Sends a phone a message that says nothing') },
    '/notifications': {
      get: reading('Webhooks, phones, and what did not get through', notificationsSchema),
    },
    '/webhooks/{id}/secret': {
      post: writing('Makes a new secret, which is told this once; never kept with other answers', {
        body: nothing,
        status: '200',
        path: idPath,
        answer: secretSchema,
        described: 'The secret; the one before is worth nothing from now on',
      }),
    },
    '/webhooks/{id}/trial': { post: trial('Sends a webhook a message that says nothing') },
    '/deliveries/again': { post: deliveryAct('Tries anew what was given up') },
    '/deliveries/forget': { post: deliveryAct('Lets be what was given up') },
  };
}

/** What the shop posts to the programs that Setup names, in the form of Standard Webhooks 1.0. */
export function webhookPaths(): NonNullable<ZodOpenApiObject['webhooks']> {
  const text = z.string();
  return {
    alert: {
      post: {
        summary:
          'An alert as it stands, and its end. At least once: the same webhook-id is the same message. Any 2xx takes it; all else is tried again for about 40 minutes, 410 not',
        requestParams: {
          header: z.object({
            'webhook-id': text.meta({ description: 'the same each time that it is sent' }),
            'webhook-timestamp': text.meta({ description: '[s] since 1970, of this try' }),
            'webhook-signature': text.meta({
              description:
                'v1, and base64 of HMAC-SHA256 over id.timestamp.body; the key is the base64 after whsec_',
            }),
          }),
        },
        requestBody: { required: true, content: json(webhookMessageSchema) },
        responses: { '2XX': { description: 'Taken' } },
      },
    },
  };
}

function trial(summary: string): ZodOpenApiOperationObject {
  return writing(summary, {
    body: nothing,
    status: '200',
    path: idPath,
    answer: trialSchema,
    described: 'Whether it got through, and why not',
  });
}

function deliveryAct(summary: string): ZodOpenApiOperationObject {
  return writing(summary, { body: deliveryAskBody, status: '200', answer: nothing, described: 'Done' });
}

function endSubscription(): ZodOpenApiOperationObject {
  const { responses: _, ...rest } = writing('Calls this phone no more', {
    body: endpointBody,
    status: '200',
    answer: nothing,
  });
  return { ...rest, responses: { '204': { description: 'Done' }, default: problem } };
}
