// The descriptions of Setup's calls.
import { z } from 'zod';
import type { ZodOpenApiOperationObject, ZodOpenApiPathsObject } from 'zod-openapi';
import {
  cardPreviewSchema,
  cardSetupSchema,
  copiesSchema,
  keptCopySchema,
  makeCopyBody,
  previewCardBody,
  putCardBody,
  putSensorBody,
  putSettingsBody,
  sensorSchema,
  settingsSchema,
} from '../../contract/index.ts';
import { idPath, json, problem, reading, writing } from './openApiParts.ts';

/** Settings, products, sensors and the copy of a shop. */
export function setupPaths(): ZodOpenApiPathsObject {
  return {
    '/settings': {
      get: reading('The settings in force: the config with what was changed by hand', settingsSchema),
      put: writing('Changes settings; what is left out stays', {
        body: putSettingsBody,
        status: '200',
        answer: settingsSchema,
        described: 'The settings in force from now on; 409 with who changed what since',
      }),
    },
    '/cards/previews': {
      post: {
        summary: 'What a card would say at 5 to 30 °C, and what is unusual about it; nothing is stored',
        requestBody: { required: true, content: json(previewCardBody) },
        responses: {
          '200': { description: 'The preview', content: json(cardPreviewSchema) },
          default: problem,
        },
      },
    },
    '/cards/{id}': {
      get: reading('One product with all that it states', cardSetupSchema, { path: idPath }),
      put: writing('Puts a product, new (201) or changed; open batches follow it', {
        body: putCardBody,
        status: '200',
        path: idPath,
        answer: cardSetupSchema,
        described: 'The product; 400 when no constants fit it',
      }),
    },
    '/sensors/{id}': {
      get: reading('One sensor', sensorSchema, { path: idPath }),
      put: writing('Hangs a sensor in a bay, takes it down, names it, puts it right', {
        body: putSensorBody,
        status: '200',
        path: idPath,
        answer: sensorSchema,
        described: 'The sensor; what it said in the last two hours counts from now on',
      }),
    },
    '/backup': { get: backup() },
    '/copies': {
      get: reading('The copies that are kept beside the store, and when the next one comes', copiesSchema),
      post: writing('Makes a copy now and keeps it; answered when it was checked', {
        body: makeCopyBody,
        status: '201',
        answer: keptCopySchema,
        described: 'The copy; 409 while another is made, 503 with the reason where there can be none',
      }),
    },
    '/copies/{name}': { get: { ...backup(), requestParams: { path: z.object({ name: z.string() }) } } },
  };
}

function backup(): ZodOpenApiOperationObject {
  const summary =
    'The whole shop as one SQLite file, of one moment, while it goes on; 501 where there is no file';
  const content = { 'application/vnd.sqlite3': { schema: z.string().meta({ format: 'binary' }) } };
  return { summary, responses: { '200': { description: 'The file', content }, default: problem } };
}
