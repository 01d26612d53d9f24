// The descriptions of the calls about what leaves the pages.
import { z } from 'zod';
import type { ZodOpenApiOperationObject, ZodOpenApiPathsObject } from 'zod-openapi';
import {
  deliveryAskBody,
  endpointBody,
  notificationsSchema,
  pushKeySchema,
  secretSchema,
  subscribeBody,
  subscribedSchema,
  trialSchema,
} from '../../contract/index.ts';
import { idPath, problem, reading, writing } from './openApiParts.ts';

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
