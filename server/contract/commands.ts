// What people may ask of a batch: the bodies of POST /batches and POST /batches/{id}/commands.
import { z } from 'zod';
import { idField, initialsField, instantField, limited, nameField } from './fields.ts';

export const SUBSTRATES = ['steel', 'aluminium', 'plastic'] as const;

export const startBatchBody = z
  .strictObject({
    cardId: idField,
    panel: nameField,
    repairOrder: nameField.optional(),
    promisedAt: instantField.optional(),
    remainingWorkMin: limited('remainingWorkMin').optional(),
    bayId: idField,
    thicknessMm: limited('thicknessMm'),
    substrate: z.enum(SUBSTRATES),
    hardenerPct: limited('hardenerPct').optional(),
    weighed: z.boolean().optional(),
    underlayMm: limited('underlayMm').optional(),
    mixedAt: instantField.optional(),
    rolledInAt: instantField.optional(),
    outdoorTemperatureC: limited('outdoorTemperatureC').optional(),
    panelTemperatureC: limited('panelTemperatureC').optional(),
    by: initialsField.optional(),
  })
  .meta({ id: 'StartBatch', description: 'One mix, spread on one or more spots of a panel.' });

const common = {
  at: instantField.optional().meta({ description: 'when it was done; now when missing' }),
  expectedVersion: z.int().min(1).optional().meta({ description: 'refused when the batch has moved on' }),
  by: initialsField.optional(),
};

export const batchCommandBody = z
  .discriminatedUnion('type', [
    z.strictObject({ type: z.literal('markSpread'), ...common }),
    z.strictObject({
      type: z.literal('recordCheck'),
      outcome: z.enum(['gums', 'powders']),
      firstTry: z.boolean().optional(),
      ...common,
    }),
    z.strictObject({ type: z.literal('finishSanding'), ...common }),
    z.strictObject({ type: z.literal('scrap'), ...common }),
    z.strictObject({ type: z.literal('moveToBay'), bayId: idField, ...common }),
    z.strictObject({
      type: z.literal('switchLamp'),
      lampId: idField,
      distanceCm: limited('distanceCm').optional(),
      forMin: limited('forMin').meta({ description: '[min] 0 switches it off' }),
      ...common,
    }),
    z.strictObject({ type: z.literal('undo'), factSequence: z.int().min(1), ...common }),
  ])
  .meta({ id: 'BatchCommand' });

export type StartBatch = z.infer<typeof startBatchBody>;
export type BatchCommand = z.infer<typeof batchCommandBody>;
export type StartBatchWire = z.input<typeof startBatchBody>;
export type BatchCommandWire = z.input<typeof batchCommandBody>;

export const previewBatchBody = z
  .strictObject({
    batchId: z.string().min(1).max(100),
    bayId: idField.optional().meta({ description: 'as if it were moved there now' }),
    lampId: idField.optional().meta({ description: 'as if this lamp were switched now' }),
    distanceCm: limited('distanceCm').optional(),
    forMin: limited('forMin').optional(),
    airTemperatureC: limited('airTemperatureC')
      .optional()
      .meta({ description: 'as if the air were this from now on' }),
  })
  .meta({
    id: 'PreviewBatch',
    description: 'What if: an open batch with another bay, lamp or air from now on.',
  });

export type PreviewBatch = z.infer<typeof previewBatchBody>;
