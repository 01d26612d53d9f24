// First hop of what people ask by HTTP: body and key are parsed, the door is asked, its answer gets a status.
import type { Request, Response } from 'express';
import { z } from 'zod';
import {
  batchCommandBody,
  initialsField,
  parseWith,
  type Rejection,
  previewBatchBody,
  startBatchBody,
} from '../../contract/index.ts';
import type { Answer, Doors } from '../../application/ports/doors.ts';
import { sendProblem, sendRefusal, sendRejections } from './problem.ts';

const keyHeader = z.string().min(1).max(200);
const acknowledgementBody = z.strictObject({ by: initialsField.optional() });

/** POST /batches. */
export async function receiveStart(doors: Doors, request: Request, response: Response): Promise<void> {
  const ask = parseAsk(request, startBatchBody);
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  sendAnswer(response, await doors.startBatch(ask.value), 201);
}

/** POST /batches/{id}/commands. */
export async function receiveCommand(doors: Doors, request: Request, response: Response): Promise<void> {
  const ask = parseAsk(request, batchCommandBody);
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  sendAnswer(response, await doors.handleCommand(String(request.params['id']), ask.value), 200);
}

/** POST /alerts/{id}/acknowledgement. */
export async function receiveAcknowledgement(
  doors: Doors,
  request: Request,
  response: Response,
): Promise<void> {
  const ask = parseAsk(request, acknowledgementBody, request.body ?? {});
  if (ask.kind === 'rejected') return sendRejections(response, ask.rejections);
  sendAnswer(response, await doors.acknowledgeAlert(String(request.params['id']), ask.value), 200);
}

/** POST /previews: a start that is not made, or an open batch with something changed; nothing is stored. */
export async function receivePreview(doors: Doors, request: Request, response: Response): Promise<void> {
  const body: unknown = request.body;
  const isOfBatch = typeof body === 'object' && body !== null && 'batchId' in body;
  const parsed = isOfBatch ? parseWith(previewBatchBody, body) : parseWith(startBatchBody, body);
  if (parsed.kind === 'rejected') return sendRejections(response, parsed.rejections);
  const { value } = parsed;
  const preview = 'batchId' in value ? await doors.previewBatch(value) : await doors.previewStart(value);
  if (preview.kind === 'refused') sendRefusal(response, preview.refusal);
  else response.json(preview.estimate);
}

type ParsedAsk<T> =
  | { kind: 'parsed'; value: { key: string; body: T } }
  | { kind: 'rejected'; rejections: readonly Rejection[] };

function parseAsk<T>(request: Request, schema: z.ZodType<T>, input: unknown = request.body): ParsedAsk<T> {
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

function sendAnswer(response: Response, answer: Answer, doneStatus: number): void {
  switch (answer.kind) {
    case 'done':
      response.status(doneStatus).json(answer.batch);
      return;
    case 'refused':
      sendRefusal(response, answer.refusal);
      return;
    case 'key-reused':
      sendProblem(response, 422, { code: 'key-reused', detail: 'This key was used for another request.' });
  }
}
