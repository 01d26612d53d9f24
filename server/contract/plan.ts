// The plan of next hands as the wire carries it: who will need someone when, and what its promise has to spare.
import { z } from 'zod';
import { STAGES } from './batch.ts';
import { instantText } from './fields.ts';

/** spread: before the mix kicks; test: to come; waiting: tested by nobody yet; sanding: in hand; unknown: no time can be told. */
export const NEEDS = ['spread', 'test', 'waiting', 'sanding', 'unknown'] as const;

export const planHelpSchema = z.object({
  kind: z.enum(['lamp', 'warmBay', 'hands']),
  gainMin: z.number().meta({ description: '[min] so much earlier; 0 where it cannot be told' }),
  lampId: z.string().optional(),
  distanceCm: z.number().optional(),
  bayId: z.string().optional(),
  batchIds: z.array(z.string()).optional().meta({ description: 'the other panels that need the same hands' }),
});

export const planEntrySchema = z.object({
  batchId: z.string(),
  panel: z.string(),
  repairOrder: z.string().nullable(),
  bayId: z.string(),
  by: z.string().nullable(),
  stage: z.enum(STAGES),
  need: z.enum(NEEDS),
  needAt: instantText.nullable().meta({ description: 'when it needs someone, or since when' }),
  promisedAt: instantText.nullable(),
  remainingWorkMin: z.number().nullable(),
  doneP50At: instantText
    .nullable()
    .meta({ description: 'P50 of the test, or now, and the work that remains' }),
  doneP90At: instantText.nullable(),
  slackMin: z.number().nullable().meta({ description: '[min] promisedAt − doneP50At' }),
  slackP90Min: z.number().nullable().meta({ description: '[min] promisedAt − doneP90At' }),
  danger: z
    .object({
      kind: z.enum(['late', 'tight', 'hands']).meta({
        description:
          'late: missed by P50; tight: by P90 only; hands: missed only because one person has other promises too',
      }),
      byMin: z.number().meta({ description: '[min] so much too late' }),
      help: z.array(planHelpSchema).meta({ description: 'what brings most first' }),
    })
    .nullable(),
});

export const planSchema = z
  .object({
    sequence: z.int(),
    nowAt: instantText,
    entries: z.array(planEntrySchema).meta({
      description: 'by the minute of need, least slack first in the same minute; what is in hand comes last',
    }),
  })
  .meta({ id: 'Plan' });

export type Need = (typeof NEEDS)[number];
export type PlanHelp = z.infer<typeof planHelpSchema>;
export type PlanEntryWire = z.infer<typeof planEntrySchema>;
export type PlanWire = z.infer<typeof planSchema>;
