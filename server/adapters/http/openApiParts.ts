// What the descriptions of calls are made of.
import { z } from 'zod';
import type { ZodOpenApiOperationObject } from 'zod-openapi';
import { batchSchema, problemSchema } from '../../contract/index.ts';

/** The id in a path. */
export const idPath = z.object({ id: z.string() });
/** What every call may answer instead. */
export const problem = {
  description: 'RFC 9457',
  content: { 'application/problem+json': { schema: problemSchema } },
};

/** A body of JSON. */
export function json(schema: z.ZodType): { 'application/json': { schema: z.ZodType } } {
  return { 'application/json': { schema } };
}

/** A call that only reads. */
export function reading(
  summary: string,
  schema: z.ZodType,
  requestParams: ZodOpenApiOperationObject['requestParams'] = {},
): ZodOpenApiOperationObject {
  return {
    summary,
    requestParams,
    responses: { '200': { description: summary, content: json(schema) }, default: problem },
  };
}

/** A call that writes, under a key. */
export function writing(
  summary: string,
  {
    body,
    status,
    path,
    answer = batchSchema,
    described = 'The batch',
  }: {
    body: z.ZodType;
    status: '200' | '201';
    path?: typeof idPath;
    answer?: z.ZodType;
    described?: string;
  },
): ZodOpenApiOperationObject {
  return {
    summary,
    requestParams: {
      header: z.object({ 'Idempotency-Key': z.string().min(1).max(200) }),
      ...(path === undefined ? {} : { path }),
    },
    requestBody: { required: true, content: json(body) },
    responses: { [status]: { description: described, content: json(answer) }, default: problem },
  };
}
