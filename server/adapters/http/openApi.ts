// The API's own description: OpenAPI 3.1 from the same schemas that parse requests, and a plain page of it.
import { z } from 'zod';
import { createDocument, type ZodOpenApiOperationObject, type ZodOpenApiPathsObject } from 'zod-openapi';
import {
  airColumnsSchema,
  alertSchema,
  batchCommandBody,
  batchSchema,
  baySchema,
  cardSchema,
  costQuery,
  costSchema,
  estimateSchema,
  healthSchema,
  plainReadingBody,
  planSchema,
  previewBatchBody,
  readingsAnswerSchema,
  recordFilterQuery,
  recordsQuery,
  recordsSchema,
  refusedPayloadSchema,
  reliabilitySchema,
  repairOrderSchema,
  sensorSchema,
  snapshotSchema,
  startBatchBody,
} from '../../contract/index.ts';
import { listMetrics } from './metricsRoute.ts';
import { accessPaths, accessSecurity } from './accessPaths.ts';
import { idPath, json, problem, reading, writing } from './openApiParts.ts';
import { asyncApiSection } from './asyncApi.ts';
import { notifyPaths, webhookPaths } from './notifyPaths.ts';
import { setupPaths } from './setupPaths.ts';

type Document = ReturnType<typeof createDocument>;

/** Makes the OpenAPI document. */
export function makeOpenApi(version: string): Document {
  return createDocument({
    openapi: '3.1.0',
    info: { title: 'Sandby', version, description: 'When every open batch of filler can be sanded.' },
    servers: [{ url: '/api/v1' }],
    webhooks: webhookPaths(),
    ...accessSecurity,
    paths: {
      '/health': { get: reading('How the parts are; 503 when nothing can be stored', healthSchema) },
      '/readings': { post: postReadings() },
      '/bays': { get: reading('Bays with their newest air', z.object({ bays: z.array(baySchema) })) },
      '/bays/{id}/air': { get: readAir() },
      '/bays/{id}/cost': { get: readCost() },
      '/cards': { get: reading('Products', z.object({ cards: z.array(cardSchema) })) },
      '/reliability': {
        get: reading('What was promised before each first test, against what it showed', reliabilitySchema),
      },
      ...recordPaths(),
      '/batches': {
        get: listBatches(),
        post: writing('Starts a batch', { body: startBatchBody, status: '201' }),
      },
      '/batches/{id}': {
        get: reading('One batch with its facts', batchSchema.extend({ facts: z.array(z.looseObject({})) }), {
          path: idPath,
        }),
      },
      '/batches/{id}/commands': {
        post: writing('Does something with a batch', { body: batchCommandBody, status: '200', path: idPath }),
      },
      '/previews': { post: postPreview() },
      '/alerts': { get: reading('Open alerts', z.object({ alerts: z.array(alertSchema) })) },
      '/alerts/{id}/acknowledgement': {
        post: writing('Marks an alert as seen', {
          body: z.object({ by: z.string().optional() }),
          status: '200',
          path: idPath,
          answer: z.union([batchSchema, alertSchema]),
          described: 'The batch; the alert where it belongs to no batch',
        }),
      },
      '/sensors': {
        get: reading(
          'Sensors, unknown ones too, and payloads that could not be read',
          z.object({ sensors: z.array(sensorSchema), refused: z.array(refusedPayloadSchema) }),
        ),
      },
      ...managerPaths(),
      '/plan': {
        get: reading(
          'Next hands: who will need someone when, and what each promise has to spare',
          planSchema,
        ),
      },
      '/snapshot': { get: reading('Everything a screen shows, at one sequence', snapshotSchema) },
    },
  });
}

function managerPaths(): ZodOpenApiPathsObject {
  return { ...setupPaths(), ...accessPaths(), ...notifyPaths() };
}

function listBatches(): ZodOpenApiOperationObject {
  return reading('Batches at one sequence', z.object({ sequence: z.int(), batches: z.array(batchSchema) }), {
    query: z.object({ open: z.enum(['true', 'false']).optional() }),
  });
}

function recordPaths(): ZodOpenApiPathsObject {
  return {
    '/records': {
      get: reading('What is kept of batches, by repair order, newest first', recordsSchema, {
        query: recordsQuery,
      }),
    },
    '/records/{repairOrder}': {
      get: reading('All that is kept of one repair order', repairOrderSchema, {
        path: z.object({ repairOrder: z.string() }),
      }),
    },
    '/records.csv': { get: recordsTable() },
  };
}

function recordsTable(): ZodOpenApiOperationObject {
  return {
    summary: 'The same as a table: RFC 4180, UTF-8 with its mark, units in the headings, instants in UTC',
    requestParams: { query: recordFilterQuery },
    responses: {
      '200': { description: 'One line a batch', content: { 'text/csv': { schema: z.string() } } },
      default: problem,
    },
  };
}

function postReadings(): ZodOpenApiOperationObject {
  return {
    summary: 'Takes readings; answered after they are stored',
    requestBody: {
      required: true,
      content: {
        'application/json': { schema: z.union([plainReadingBody, z.array(plainReadingBody)]) },
        'application/senml+json': { schema: z.array(z.looseObject({})) },
      },
    },
    responses: {
      '200': { description: 'What became of them', content: json(readingsAnswerSchema) },
      default: problem,
    },
  };
}

function postPreview(): ZodOpenApiOperationObject {
  return {
    summary: 'An estimate of what is not so; nothing is stored',
    requestBody: { required: true, content: json(z.union([startBatchBody, previewBatchBody])) },
    responses: { '200': { description: 'The estimate', content: json(estimateSchema) }, default: problem },
  };
}

function readAir(): ZodOpenApiOperationObject {
  return reading('Air of a bay in columns; stepMin 0 gives every stored reading', airColumnsSchema, {
    path: idPath,
    query: z.object({
      from: z.iso.datetime().optional(),
      to: z.iso.datetime().optional(),
      stepMin: z.number().min(0).max(1440).optional(),
    }),
  });
}

function readCost(): ZodOpenApiOperationObject {
  return reading('What the cold cost a bay, and what a warmer morning would take away', costSchema, {
    path: idPath,
    query: costQuery,
  });
}

/** Makes a readable page of the document: every call with its body and answer, no script. */
export function makeApiPage(version: string): string {
  const document = makeOpenApi(version);
  const calls = Object.entries(document.paths ?? {}).flatMap(([path, operations]) =>
    (['get', 'post', 'put'] as const).flatMap((method) => {
      const operation = (operations as Record<string, { summary?: string } | undefined>)[method];
      return operation === undefined ? [] : [callSection(method, { path, operation })];
    }),
  );
  const schemas = Object.entries(document.components?.schemas ?? {}).map(
    ([name, schema]) =>
      `<details id="${name}"><summary><code>${name}</code></summary><pre>${text(schema)}</pre></details>`,
  );
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Sandby API</title><link rel="icon" href="/icon.svg"><style>${STYLE}</style></head><body><main><h1>Sandby API ${version}</h1>
<p>JSON over HTTP under <code>/api/v1</code>; the same as <a href="/api/v1/openapi.json">OpenAPI 3.1</a>.
Every writing call but <code>/readings</code> and those of <code>/access</code> needs an <code>Idempotency-Key</code>. Problems follow RFC 9457.</p>
<p>Readings by MQTT 3.1.1: publish SenML or <code>{"airTemperatureC": 18.5, "relativeHumidityPct": 55}</code>
to <code>sandby/v1/readings/SENSOR</code>; QoS 1 is acknowledged after it is stored. MQTT 5 is not served.</p>
${calls.join('\n')}<h2>Shapes</h2>${schemas.join('\n')}${webhookSection(document)}${asyncApiSection(version, escapeHtml)}${listMetrics()}</main></body></html>`;
}

function webhookSection({ webhooks = {} }: Document): string {
  const sections = Object.entries(webhooks).map(([name, { post }]) =>
    callSection('post', { path: `webhook ${name}`, operation: post ?? {} }),
  );
  return `<h2>Webhooks</h2><p>What the shop posts to the programs that Setup names.</p>${sections.join('')}`;
}

function callSection(
  method: string,
  { path, operation }: { path: string; operation: { summary?: string } },
): string {
  const { summary = '', ...rest } = operation;
  return `<details><summary><b>${method.toUpperCase()}</b> <code>${escapeHtml(path)}</code> ${escapeHtml(summary)}</summary><pre>${text(rest)}</pre></details>`;
}

function text(value: unknown): string {
  return escapeHtml(JSON.stringify(value, null, 2));
}

function escapeHtml(raw: string): string {
  return raw.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

const STYLE =
  ':root{color-scheme:light dark}body{font:16px/1.5 system-ui,sans-serif;max-width:56rem;margin:2rem auto;padding:0 1rem}pre{overflow:auto;font-size:13px}summary{cursor:pointer;padding:.5rem 0}.wide{overflow:auto}td,th{padding:.25rem .75rem .25rem 0;text-align:left;vertical-align:top}';
