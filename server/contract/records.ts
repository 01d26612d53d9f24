// Records: what is kept of batches, open and closed, by repair order; and what may be asked of them.
import { z } from 'zod';
import { NOTE_CODES, reasonSchema, STAGES } from './batch.ts';
import { SUBSTRATES } from './commands.ts';
import { idField, initialsField, instantText, nameField } from './fields.ts';
import { instantFromIso } from './instant.ts';

/** Groups on a page, unless told otherwise, and at most. */
export const RECORD_PAGE = { usualCount: 20, mostCount: 100 } as const;

const spanEnd = z
  .string()
  .refine((text) => isDay(text) || z.iso.datetime({ offset: true }).safeParse(text).success, {
    error: 'is neither a day nor an instant',
    params: { allowed: 'a day of the shop such as 2026-01-12, or an instant such as 2026-01-12T07:00:00Z' },
  })
  .meta({ description: 'a day of the shop, which counts whole, or an instant; of mixing' });

const filterFields = {
  from: spanEnd.optional(),
  to: spanEnd.optional(),
  cardId: idField.optional(),
  by: initialsField.optional().meta({ description: 'who mixed, tested or closed it' }),
  bayId: idField.optional().meta({ description: 'a bay in which it stood' }),
  stage: z.enum(STAGES).optional(),
  text: nameField.optional().meta({ description: 'part of panel, repair order, product, bay or initials' }),
};

const isSpan = {
  check: ({ from, to }: { from?: string | undefined; to?: string | undefined }): boolean =>
    from === undefined || to === undefined || isInOrder(from, to),
  says: {
    path: ['from'],
    error: 'lies after to',
    params: { allowed: 'a day or instant not after to' },
  },
};

/** What of the records is asked for. */
export const recordFilterQuery = z.strictObject(filterFields).refine(isSpan.check, isSpan.says);

/** The same, a page of it. */
export const recordsQuery = z
  .strictObject({
    ...filterFields,
    limit: z
      .string()
      .refine((text) => /^\d{1,3}$/.test(text) && isPageSize(Number(text)), {
        error: 'is not a number of groups',
        params: { allowed: `1 … ${RECORD_PAGE.mostCount}` },
      })
      .optional(),
    before: z.iso
      .datetime({ offset: true })
      .optional()
      .meta({ description: 'nextBefore of the page before this one' }),
  })
  .refine(isSpan.check, isSpan.says);

const windowSchema = z.object({
  p10At: instantText.nullable(),
  p50At: instantText.nullable(),
  p90At: instantText.nullable(),
  kickedAt: instantText.nullable(),
  buildP50At: instantText.nullable(),
  edgeP50At: instantText.nullable(),
  testFromAt: instantText.nullable(),
  cardMin: z.number().nullable(),
  expectedMin: z.number().nullable(),
  reasons: z.array(reasonSchema),
  notes: z.array(z.enum(NOTE_CODES)),
  supported: z.boolean(),
});

export const recordSchema = z
  .object({
    id: z.string(),
    stage: z.enum(STAGES),
    repairOrder: z.string().nullable(),
    promisedAt: instantText.nullable(),
    panel: z.string(),
    cardId: z.string(),
    cardName: z.string(),
    thicknessMm: z.number(),
    hardenerPct: z.number(),
    weighed: z.boolean(),
    underlayMm: z.number(),
    substrate: z.enum(SUBSTRATES),
    stays: z.array(z.object({ bayId: z.string(), bayName: z.string(), fromAt: instantText })),
    lamps: z.array(
      z.object({
        lampId: z.string(),
        fromAt: instantText,
        untilAt: instantText,
        distanceCm: z.number().nullable(),
        fluxWPerM2: z.number(),
      }),
    ),
    air: z.object({
      mixingC: z.number().nullable().meta({ description: '[°C] air at mixing; null without readings' }),
      whileCuringMinC: z.number().nullable().meta({ description: '[°C] until sanding began' }),
      whileCuringMaxC: z.number().nullable(),
      humidityMixingPct: z.number().nullable().meta({ description: '[%RH] at mixing' }),
    }),
    mixedAt: instantText,
    spreadAt: instantText.nullable(),
    testAlertAt: instantText.nullable(),
    sandingAt: instantText.nullable(),
    closedAt: instantText.nullable(),
    window: windowSchema.nullable().meta({ description: 'as it stood before the first check' }),
    checks: z.array(
      z.object({
        at: instantText,
        outcome: z.enum(['gums', 'powders']),
        firstTry: z.boolean().nullable(),
        by: z.string().nullable(),
      }),
    ),
    said: z
      .object({
        firstCheckAt: instantText,
        outcome: z.enum(['gums', 'powders']),
        probability: z.number().nullable().meta({ description: 'that it powders, just before that check' }),
        powderedAt: instantText.nullable(),
        afterP50Min: z.number().nullable().meta({ description: '[min] negative: earlier than P50' }),
        place: z
          .enum(['early', 'inside', 'late'])
          .nullable()
          .meta({ description: 'of powderedAt: before P10, up to P90, after it' }),
      })
      .nullable()
      .meta({ description: 'what the window had said against what happened; null when nobody tested' }),
    by: z.object({
      mixed: z.string().nullable(),
      spread: z.string().nullable(),
      closed: z.string().nullable(),
      everyone: z.array(z.string()),
    }),
    cautions: z
      .object({ acknowledgedAt: instantText, by: z.string().nullable() })
      .meta({ description: 'Start acknowledges the cautions shown' }),
  })
  .meta({ id: 'Record' });

export const recordsSchema = z
  .object({
    batchCount: z.int().meta({ description: 'how many match, on all pages' }),
    groups: z.array(
      z.object({
        repairOrder: z.string().nullable(),
        panel: z.string().meta({ description: 'of the newest batch' }),
        day: z.string().meta({ description: 'of the newest batch, in the shop’s time zone' }),
        batches: z.array(recordSchema).meta({ description: 'newest first; only those that match' }),
      }),
    ),
    nextBefore: instantText.nullable().meta({ description: 'asks for the next page; null on the last' }),
  })
  .meta({ id: 'Records' });

export const repairOrderSchema = z
  .object({
    repairOrder: z.string(),
    promisedAt: instantText.nullable().meta({ description: 'as last told' }),
    batches: z.array(recordSchema).meta({ description: 'in the order in which they were mixed' }),
  })
  .meta({ id: 'RepairOrder' });

export type RecordFilterQuery = z.infer<typeof recordFilterQuery>;
export type RecordWire = z.infer<typeof recordSchema>;
export type RecordsWire = z.infer<typeof recordsSchema>;
export type RepairOrderWire = z.infer<typeof repairOrderSchema>;

/** Whether a text is a day of the calendar: "2026-01-12". */
export function isDay(text: string): boolean {
  return z.iso.date().safeParse(text).success;
}

/** Days with days, instants with instants: of a day and an instant only the shop's zone knows which comes first. */
function isInOrder(from: string, to: string): boolean {
  if (isDay(from) !== isDay(to)) return true;
  const [fromAt, toAt] = [instantFromIso(from), instantFromIso(to)];
  return fromAt === null || toAt === null || fromAt <= toAt;
}

function isPageSize(count: number): boolean {
  return count >= 1 && count <= RECORD_PAGE.mostCount;
}
