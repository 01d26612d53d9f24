// What a bay's air costs: slowdown, added cure minutes, their causes, a map of the week, and what a warmer morning takes away.
import { z } from 'zod';
import { COLD_CAUSES, COST_SPAN_MAX_DAYS, HEAT_BOUNDS_C, WEEKDAYS } from './costTerms.ts';
import { instantField, instantText } from './fields.ts';
import { type Instant, MS_PER_MIN } from './instant.ts';
import { TEXT_MAX } from './limits.ts';

/** With the extra hour of a span in which the clocks go back. */
const SPAN_MAX_MS = (COST_SPAN_MAX_DAYS * 24 + 1) * 60 * MS_PER_MIN;

const heatClock = z
  .string()
  .refine((text) => /^([01]?\d|2[0-4])(:[0-5]\d)?$/.test(text) && minutesOf(text) <= 24 * 60, {
    error: 'is not a time of day',
    params: { allowed: '0 … 24, or 06:30' },
  });

const heatTemperature = z.string().refine((text) => isDecimal(text) && isWithin(Number(text)), {
  error: 'is not a temperature a bay is heated to',
  params: { allowed: `${HEAT_BOUNDS_C.min} … ${HEAT_BOUNDS_C.max} °C` },
});

/** The query of `GET /bays/{id}/cost`, as texts. */
export const costQuery = z.strictObject({
  from: instantField.optional(),
  to: instantField.optional(),
  cardId: z.string().min(1).max(TEXT_MAX.id).optional(),
  heatFrom: heatClock.optional(),
  heatTo: heatClock.optional(),
  heatC: heatTemperature.optional(),
});

/** Minutes after midnight of a time of day, "6" or "06:30" [min]. */
export function minutesOf(clock: string): number {
  const [hourText = '0', minuteText = '0'] = clock.split(':');
  return Number(hourText) * 60 + Number(minuteText);
}

/** Whether a span is one that is answered, both ends known. */
export function isCostSpan({ fromAt, toAt }: { readonly fromAt: Instant; readonly toAt: Instant }): boolean {
  return fromAt < toAt && toAt - fromAt <= SPAN_MAX_MS;
}

function isDecimal(text: string): boolean {
  return /^\d+(\.\d+)?$/.test(text);
}

function isWithin(temperatureC: number): boolean {
  return temperatureC >= HEAT_BOUNDS_C.min && temperatureC <= HEAT_BOUNDS_C.max;
}

const added = z.number().meta({ description: '[min] expectedMin − cardMin of its batches, none below 0' });
const dateText = z.string().meta({ description: 'a local day, such as 2026-01-12' });
const clockText = z.string().meta({ description: 'local time of day, such as 06:00' });

const costBatchSchema = z.object({
  id: z.string(),
  panel: z.string(),
  cardId: z.string(),
  mixedAt: instantText,
  untilAt: instantText.meta({ description: 'closed, or the end of the span' }),
  addedMin: added.nullable().meta({ description: '[min] null where no time is known' }),
});

export const costSchema = z
  .object({
    bayId: z.string(),
    fromAt: instantText,
    toAt: instantText,
    cardId: z.string().meta({ description: 'the product that slowdown and map speak of' }),
    slowdown: z
      .number()
      .nullable()
      .meta({ description: "of the card's own film mixed now; null without a reading in 45 min" }),
    expectedMin: z.number().nullable(),
    cardMin: z.number().nullable(),
    addedMin: added,
    batchCount: z.int(),
    untimedCount: z.int().meta({ description: 'batches without a time: no readings, or too cold to cure' }),
    readingMin: z.number().meta({ description: '[min] of the span in which the air is known' }),
    days: z.array(z.object({ date: dateText, addedMin: added, batchCount: z.int() })),
    weeks: z
      .array(z.object({ mondayDate: dateText, addedMin: added, batchCount: z.int() }))
      .meta({ description: 'from Monday on, cut to the span' }),
    causes: z
      .array(z.object({ code: z.enum(COLD_CAUSES), minutes: z.number(), share: z.number() }))
      .meta({ description: 'their minutes add up to addedMin; largest first' }),
    doorCount: z.int().meta({ description: 'falls of the air that look like an open door' }),
    humidMin: z.number().meta({ description: '[min] spent in spells of 75 % and more' }),
    map: z
      .array(
        z.object({
          weekday: z.enum(WEEKDAYS),
          hour: clockText,
          slowdown: z.number().nullable().meta({ description: "mean of the card's own film; null unknown" }),
          addedMin: added,
        }),
      )
      .meta({ description: '7 × 24 cells, Monday 00:00 first' }),
    whatIf: z
      .object({
        fromDate: dateText,
        toDate: dateText,
        heatFrom: clockText,
        heatTo: clockText,
        heatC: z.number(),
        batchCount: z.int(),
        addedMin: added,
        taken: z
          .object({ p10Min: z.number(), p50Min: z.number(), p90Min: z.number() })
          .meta({ description: 'minutes taken away, and their range' }),
      })
      .nullable()
      .meta({ description: 'the last days of the span again, in heated air; null without batches' }),
    batches: z.array(costBatchSchema).meta({ description: 'that cured here, in order of mixing' }),
    climate: z
      .object({
        stepMin: z.number(),
        at: z.array(instantText),
        airTemperatureC: z.array(z.number().nullable()),
        relativeHumidityPct: z.array(z.number().nullable()),
        panelTemperatureC: z.array(z.number().nullable()),
        dewDistanceK: z.array(z.number().nullable()),
      })
      .meta({ description: 'means of steps in columns; the panel is a bare one that stands in the bay' }),
  })
  .meta({ id: 'Cost' });

export type CostWire = z.infer<typeof costSchema>;
