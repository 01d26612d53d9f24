// What every writing call brings: a body and the key under which its answer is kept.
import type { Request } from 'express';
import { z } from 'zod';
import { parseWith, type Rejection } from '../../contract/index.ts';

export type ParsedAsk<T> =
  | { kind: 'parsed'; value: { key: string; body: T } }
  | { kind: 'rejected'; rejections: readonly Rejection[] };

const keyHeader = z.string().min(1).max(200);

/** Parses body and key; both are told when both are wrong. */
export function parseAsk<T>(
  request: Request,
  schema: z.ZodType<T>,
  input: unknown = request.body,
): ParsedAsk<T> {
  const key = keyHeader.safeParse(request.get('Idempotency-Key'));
  const body = parseWith(schema, input);
  const rejections: Rejection[] = body.kind === 'rejected' ? [...body.rejections] : [];
  if (!key.success) {
    rejections.push({
      path: 'Idempotency-Key',
      reason: 'is missing or too long',
      allowed: 'a header of 1 … 200 characters',
    });
  }
  if (!key.success || body.kind === 'rejected') return { kind: 'rejected', rejections };
  return { kind: 'parsed', value: { key: key.data, body: body.value } };
}
