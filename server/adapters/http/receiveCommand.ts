// First hop of what people ask by HTTP: body and key are parsed, the door is asked, its answer gets a status.
import type { Request, Response } from 'express';
import { z } from 'zod';
import {
  batchCommandBody,
  initialsField,
  parseWith,
  previewBatchBody,
  startBatchBody,
} from '../../contract/index.ts';
import type { Answer, Doors } from '../../application/ports/doors.ts';
import { parseAsk } from './parseAsk.ts';
import { sendProblem, sendRefusal, sendRejections } from './problem.ts';

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

function sendAnswer(response: Response, answer: Answer, doneStatus: number): void {
  switch (answer.kind) {
    case 'done':
      response.status(doneStatus).json(answer.batch);
      return;
    case 'seen':
      response.status(doneStatus).json(answer.alert);
      return;
    case 'refused':
      sendRefusal(response, answer.refusal);
      return;
    case 'key-reused':
      sendProblem(response, 422, { code: 'key-reused', detail: 'This key was used for another request.' });
  }
}
