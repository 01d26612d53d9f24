// Cards as Setup changes them: what the tin states, tried before it is kept.
import { z } from 'zod';
import { limited, nameField } from './fields.ts';
import { askedBy, touchSchema } from './settings.ts';

/** Bounds of what only cards state; the rest is in LIMITS. The same as the cards file's. */
const CARD_LIMITS = {
  atC: { min: -5, max: 45, unit: '°C' },
  workingMin: { min: 0.5, max: 120, unit: 'min' },
  sandMin: { min: 1, max: 600, unit: 'min' },
  lowestC: { min: -20, max: 40, unit: '°C' },
  activationKJPerMol: { min: 10, max: 150, unit: 'kJ/mol' },
  humidityEffectPer10Pct: { min: -0.2, max: 0.2, unit: 'of the rate for each 10 %RH' },
} as const;

/** What holds where a card states nothing (design MODEL §2). */
export const UNSTATED_ON_CARDS = {
  activationKJPerMol: 46,
  inductionActivationKJPerMol: 50,
  humidityEffectPer10Pct: 0,
} as const;

const FILLS = ['regular', 'light'] as const;

const statedFields = {
  name: nameField,
  fill: z.enum(FILLS),
  atC: ofCard('atC').describe('[°C] The temperature that the statement is for.'),
  thicknessMm: limited('thicknessMm'),
  hardenerPct: limited('hardenerPct'),
  workingMin: ofCard('workingMin'),
  sandMin: ofCard('sandMin'),
  lowestC: ofCard('lowestC').describe('[°C] Below this the tin promises nothing.'),
  thicknessMaxMm: limited('thicknessMm').describe('[mm] A thicker film gets a warning.'),
};

export const previewCardBody = z
  .strictObject({
    ...statedFields,
    name: nameField.optional(),
    activationKJPerMol: ofCard('activationKJPerMol').optional(),
    humidityEffectPer10Pct: ofCard('humidityEffectPer10Pct').optional(),
  })
  .meta({ id: 'PreviewCard' });

export const putCardBody = z
  .strictObject({
    ...askedBy,
    ...statedFields,
    activationKJPerMol: ofCard('activationKJPerMol')
      .optional()
      .describe('left out: as it is, or the model’s'),
    humidityEffectPer10Pct: ofCard('humidityEffectPer10Pct')
      .optional()
      .describe('left out: as it is, or none'),
    beadGramsPer10Cm: limited('beadGramsPer10Cm')
      .nullable()
      .optional()
      .describe('[g] of 10 cm of this product’s hardener; null: the shop’s'),
  })
  .meta({ id: 'PutCard' });

export const CARD_WARNINGS = [
  'doubling-unusual',
  'working-share-unusual',
  'hardener-unusual',
  'thick-for-one-coat',
  'stalls-in-the-cold',
  'slow-in-the-cold',
] as const;

export const cardPreviewSchema = z
  .object({
    filmMm: z
      .number()
      .meta({ description: '[mm] the film that is solved, on steel, all at the air’s temperature' }),
    rows: z.array(
      z.object({
        airTemperatureC: z.number(),
        workingMin: z.number().nullable(),
        testMin: z.number().nullable().meta({ description: '[min] null: not within 12 h' }),
        promised: z.boolean().meta({ description: 'false below the card’s lowest temperature' }),
      }),
    ),
    doublingK: z.number().nullable().meta({ description: '[K] so much colder takes twice as long' }),
    warnings: z.array(
      z.object({
        code: z.enum(CARD_WARNINGS),
        path: z.string().meta({ description: 'the field that it speaks of' }),
        sentence: z.string(),
        airTemperatureC: z.number().nullable(),
        testMin: z.number().nullable(),
      }),
    ),
  })
  .meta({ id: 'CardPreview' });

export const cardSetupSchema = z
  .object({
    id: z.string(),
    version: z.int().meta({ description: 'counts changes by hand; 0 while the cards file alone speaks' }),
    name: z.string(),
    fill: z.enum(FILLS),
    atC: z.number(),
    thicknessMm: z.number(),
    hardenerPct: z.number(),
    workingMin: z.number(),
    sandMin: z.number(),
    lowestC: z.number(),
    thicknessMaxMm: z.number(),
    activationKJPerMol: z.number(),
    humidityEffectPer10Pct: z.number(),
    beadGramsPer10Cm: z.number().nullable().meta({ description: '[g] its own; null: the shop’s' }),
    preview: cardPreviewSchema,
    changes: z.array(touchSchema),
  })
  .meta({ id: 'CardSetup' });

/** A number inside the table's bounds, told with both of them and the unit. */
function ofCard(field: keyof typeof CARD_LIMITS): z.ZodNumber {
  const { min, max, unit } = CARD_LIMITS[field];
  const allowed = `${min} … ${max} ${unit}`;
  return z
    .number()
    .refine((stated) => stated >= min && stated <= max, { error: 'is out of range', params: { allowed } });
}

export type PreviewCard = z.infer<typeof previewCardBody>;
export type PutCard = z.infer<typeof putCardBody>;
export type CardPreviewWire = z.infer<typeof cardPreviewSchema>;
export type CardWarningCode = (typeof CARD_WARNINGS)[number];
export type CardSetupWire = z.infer<typeof cardSetupSchema>;
