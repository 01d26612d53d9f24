// The schemas of a diary's lines, as far as they are the diary's own; bodies are those of the contract.
import { z } from 'zod';
import { batchCommandBody, initialsField, instantField, TEXT_MAX } from '../../contract/index.ts';

const START_TYPE = 'startBatch';
const ACT_TYPES = batchCommandBody.options.map((option) => option.shape.type.value);

/** Whoever wrote the diary chose it; it only has to be one and the same text on every line of a batch. */
const labelField = z.string().min(1).max(TEXT_MAX.note);

/** What every line has. */
export const diaryHeadSchema = z.object({
  at: instantField,
  kind: z.enum(['reading', 'command', 'truth']),
});

/** What every command has. */
export const diaryTypeSchema = z.object({
  batch: labelField,
  type: z.enum([START_TYPE, ...ACT_TYPES]),
});

export const diaryUndoSchema = z.strictObject({
  type: z.literal('undo'),
  expectedVersion: z.int().min(1).optional(),
  by: initialsField.optional(),
});

export const diaryTruthSchema = z.strictObject({
  at: instantField,
  batch: labelField,
  readyAt: instantField.nullable(),
});
