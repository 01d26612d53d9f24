// A batch and its estimate as the wire carries them.
import { z } from 'zod';
import { SUBSTRATES } from './commands.ts';
import { instantText } from './fields.ts';

/** wet → kicked → test → sanding → sanded, or scrapped (design PRODUCT §2). */
export const STAGES = ['wet', 'kicked', 'test', 'sanding', 'sanded', 'scrapped'] as const;
export type Stage = (typeof STAGES)[number];

/** Why the time differs from the card's own statement; the minutes of all parts add up to the difference. */
export const REASON_CODES = [
  'film',
  'edge',
  'hardener',
  'bay-cold',
  'bay-warm',
  'car-cold',
  'car-warm',
  'lamp',
  'product',
] as const;

/** What a reader must know about an estimate beside its times. */
export const NOTE_CODES = [
  'no-air',
  'air-stale',
  'air-gap',
  'humidity-assumed',
  'stalled',
  'condensation-hold',
  'too-cold',
  'too-hot',
  'hardener-low',
  'hardener-high',
  'film-thick',
  'gummed',
] as const;

export const reasonSchema = z.object({
  code: z.enum(REASON_CODES),
  minutes: z.number().meta({ description: '[min] later (+) or earlier (−) than the card, by this cause' }),
  bayId: z.string().optional(),
  airTemperatureC: z.number().optional().meta({ description: '[°C] the air now' }),
  panelTemperatureC: z.number().optional().meta({ description: '[°C] the panel at mixing' }),
});

export const estimateSchema = z
  .object({
    modelVersion: z.string(),
    learnedVersion: z.int(),
    computedAt: instantText,
    supported: z.boolean().meta({ description: 'false when there was no reading for 45 min' }),
    spreadUntilAt: instantText.nullable(),
    kickedAt: instantText.nullable(),
    test: z.object({
      p10At: instantText.nullable(),
      p50At: instantText.nullable(),
      p90At: instantText.nullable(),
    }),
    buildP50At: instantText.nullable(),
    edgeP50At: instantText.nullable(),
    testFromAt: instantText.nullable().meta({ description: "when the shop's alert probability is reached" }),
    probabilityNow: z.number().nullable().meta({ description: '0 … 1' }),
    cardMin: z
      .number()
      .nullable()
      .meta({ description: '[min] same film, everything at the temperature of the card' }),
    expectedMin: z.number().nullable().meta({ description: '[min] from mixing' }),
    slowdown: z.number().nullable().meta({ description: 'expectedMin / cardMin' }),
    reasons: z.array(reasonSchema).meta({ description: 'largest first' }),
    notes: z.array(z.enum(NOTE_CODES)),
  })
  .meta({ id: 'Estimate' });

const checkSchema = z.object({
  at: instantText,
  outcome: z.enum(['gums', 'powders']),
  firstTry: z.boolean().nullable(),
  by: z.string().nullable(),
});

const lampSpellSchema = z.object({
  lampId: z.string(),
  fromAt: instantText,
  untilAt: instantText,
  distanceCm: z.number().nullable(),
  fluxWPerM2: z.number(),
});

export const batchSchema = z
  .object({
    id: z.string(),
    version: z.int().meta({ description: "counts people's acts; estimates leave it alone" }),
    stage: z.enum(STAGES),
    cardId: z.string(),
    panel: z.string(),
    repairOrder: z.string().nullable(),
    promisedAt: instantText.nullable(),
    remainingWorkMin: z.number().nullable(),
    bayId: z.string(),
    thicknessMm: z.number(),
    substrate: z.enum(SUBSTRATES),
    hardenerPct: z.number(),
    weighed: z.boolean(),
    underlayMm: z.number(),
    rolledInAt: instantText.nullable(),
    outdoorTemperatureC: z.number().nullable(),
    panelTemperatureC: z.number().nullable(),
    by: z.string().nullable(),
    mixedAt: instantText,
    spreadAt: instantText.nullable(),
    sandingAt: instantText.nullable(),
    closedAt: instantText.nullable(),
    checks: z.array(checkSchema),
    lamps: z.array(lampSpellSchema),
    lastAct: z
      .object({ factSequence: z.int(), type: z.string(), recordedAt: instantText, by: z.string().nullable() })
      .nullable()
      .meta({ description: 'the act that undo would take back' }),
    estimate: estimateSchema.nullable(),
  })
  .meta({ id: 'Batch' });

export type Reason = z.infer<typeof reasonSchema>;
export type NoteCode = (typeof NOTE_CODES)[number];
export type EstimateWire = z.infer<typeof estimateSchema>;
export type BatchWire = z.infer<typeof batchSchema>;
