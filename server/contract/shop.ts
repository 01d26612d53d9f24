// The shop as screens see it: bays with their air, cards, people, sensors, alerts, the snapshot, live messages.
import { z } from 'zod';
import { ALERT_KINDS, ALERT_PLACES } from './alertTerms.ts';
import { batchSchema } from './batch.ts';
import { SUBSTRATES } from './commands.ts';
import { instantText } from './fields.ts';
import { LANGUAGES, touchSchema, unitsSchema } from './settings.ts';
import { troubleSchema } from './troubles.ts';

/** good: used; suspect: kept and marked, not used; aside: not this shop's, or not of this time, or contradicted. */
export const TRUSTS = ['good', 'suspect', 'aside'] as const;

export const baySchema = z
  .object({
    id: z.string(),
    name: z.string(),
    kind: z.enum(['bay', 'booth', 'yard']),
    airTemperatureC: z.number().nullable(),
    relativeHumidityPct: z.number().nullable(),
    dewPointC: z.number().nullable(),
    at: instantText.nullable().meta({ description: 'when the newest air temperature was measured' }),
    ageS: z.number().nullable(),
    trust: z.enum(['good', 'stale', 'none']),
    sensorIds: z.array(z.string()),
    substrate: z.enum(SUBSTRATES).meta({ description: 'what is usually worked on there' }),
  })
  .meta({ id: 'Bay' });

export const cardSchema = z
  .object({
    id: z.string(),
    name: z.string(),
    fill: z.enum(['regular', 'light']),
    atC: z.number(),
    thicknessMm: z.number(),
    hardenerPct: z.number(),
    workingMin: z.number(),
    sandMin: z.number(),
    lowestC: z.number(),
    beadGramsPer10Cm: z
      .number()
      .nullable()
      .meta({ description: '[g] of 10 cm of its hardener’s bead; null until the shop has weighed it' }),
    learned: z
      .object({
        version: z.int().meta({ description: 'counts what was learned and taken back' }),
        batchCount: z.int().meta({ description: 'how many closed batches it rests on' }),
        sandMin: z
          .number()
          .nullable()
          .meta({ description: "[min] the card's own film, as the shop has seen it" }),
        doublingK: z.number().nullable().meta({ description: '[K] so much colder takes twice as long' }),
        timeScale: z.number().meta({ description: 'time over the card’s time at its own temperature' }),
        scatterSd: z.number().meta({ description: 'of ln time, from one batch to the next' }),
      })
      .nullable()
      .meta({ description: 'null until a closed batch has taught something' }),
  })
  .meta({ id: 'Card' });

const lampSchema = z.object({ id: z.string(), name: z.string(), distancesCm: z.array(z.number()) });

const personSchema = z.object({ initials: z.string(), name: z.string().nullable() });

const alertSubjectSchema = z.object({
  batchId: z.string().nullable(),
  panel: z.string().nullable(),
  sensorId: z.string().nullable(),
  bayId: z.string().nullable(),
  by: z.string().nullable().meta({ description: 'initials of whose batch it is' }),
});

export const alertSchema = z
  .object({
    id: z.string(),
    kind: z.enum(ALERT_KINDS),
    to: z.array(z.enum(ALERT_PLACES)).meta({ description: 'the screens that it is for' }),
    people: z
      .array(z.string())
      .meta({ description: 'initials of those whose Bench it is for; empty: every Bench' }),
    folded: z.boolean().meta({
      description: 'one line for many of a kind: its subjects come and go silently, it is seen as one',
    }),
    subjects: z.array(alertSubjectSchema).meta({ description: 'what it is about; one unless folded' }),
    batchId: z.string().nullable().meta({ description: 'of the one batch that it is about' }),
    bayId: z.string().nullable().meta({ description: 'of the one batch or sensor that it is about' }),
    panel: z.string().nullable().meta({ description: 'of the one batch that it is about' }),
    sensorId: z.string().nullable().meta({ description: 'of the one sensor that it is about' }),
    movedFromAt: instantText
      .nullable()
      .meta({ description: 'slowing: P50 of the test as it was told when the batch was last acted on' }),
    movedToAt: instantText
      .nullable()
      .meta({ description: 'slowing: P50 when this was raised; null where no time is left' }),
    raisedAt: instantText,
    acknowledgedAt: instantText.nullable(),
    withdrawnAt: instantText.nullable(),
  })
  .meta({ id: 'Alert' });

export const sensorSchema = z
  .object({
    id: z.string(),
    version: z.int().meta({ description: 'counts changes by hand' }),
    name: z.string().nullable().meta({ description: 'as people call it' }),
    bayId: z.string().nullable().meta({ description: 'null: unknown, its readings are kept aside' }),
    sinceAt: instantText
      .nullable()
      .meta({ description: 'from when on it counts for its bay; null: always, or for none' }),
    airTemperatureOffsetK: z.number().meta({ description: '[K] added to what it says' }),
    relativeHumidityOffsetPct: z.number().meta({ description: '[%RH] added to what it says' }),
    lastSeenAt: instantText.nullable(),
    lastValues: z.object({
      airTemperatureC: z.number().nullable(),
      relativeHumidityPct: z.number().nullable(),
      panelTemperatureC: z.number().nullable(),
    }),
    changes: z.array(touchSchema),
  })
  .meta({ id: 'Sensor' });

export const refusedPayloadSchema = z.object({
  at: instantText,
  topic: z.string(),
  reason: z.string(),
  excerpt: z.string(),
});

export const snapshotSchema = z
  .object({
    ledgerId: z.string(),
    sequence: z.int(),
    nowAt: instantText,
    rate: z.number().meta({ description: '1 on the wall clock, 20 in the demo' }),
    shop: z.object({
      name: z.string(),
      timeZone: z.string(),
      simulated: z.boolean(),
      testProbabilityPct: z.number(),
      language: z.enum(LANGUAGES).meta({ description: 'until a device chooses another' }),
      units: unitsSchema.meta({ description: 'until a device chooses others' }),
      sound: z.boolean(),
    }),
    bays: z.array(baySchema),
    cards: z.array(cardSchema),
    lamps: z.array(lampSchema),
    people: z.array(personSchema),
    panels: z.array(z.string()),
    batches: z.array(batchSchema).meta({ description: 'open ones' }),
    alerts: z.array(alertSchema).meta({ description: 'open ones' }),
    health: z.enum(['ok', 'degraded']),
    troubles: z.array(troubleSchema).meta({ description: 'what is wrong; empty when all is well' }),
    outbox: z
      .enum(['ok', 'late'])
      .meta({ description: 'late: messages to phones or programs wait for long' }),
  })
  .meta({ id: 'Snapshot' });

/** In order of sequence; a client whose own sequence is not afterSequence has missed something and reads the snapshot. */
export const changeSchema = z
  .object({
    sequence: z.int(),
    afterSequence: z.int(),
    batches: z.array(batchSchema),
    alerts: z.array(alertSchema),
  })
  .meta({ id: 'Change' });

export const airMessageSchema = z
  .object({
    bayId: z.string(),
    at: instantText,
    airTemperatureC: z.number().nullable(),
    relativeHumidityPct: z.number().nullable(),
    dewPointC: z.number().nullable(),
  })
  .meta({ id: 'AirMessage' });

const boundedShareFields = {
  count: z.int(),
  powderedCount: z.int(),
  lowProbability: z.number().meta({ description: '95 % bounds of the share that powders (Wilson)' }),
  highProbability: z.number(),
};

export const reliabilitySchema = z
  .object({
    batchCount: z
      .int()
      .meta({ description: 'closed batches whose first test by hand is known, 200 a product' }),
    bins: z
      .array(
        z.object({
          fromProbability: z.number(),
          toProbability: z.number(),
          meanProbability: z.number().nullable(),
          ...boundedShareFields,
        }),
      )
      .meta({ description: 'what was promised just before the first test, against what it showed' }),
    promise: z
      .object({ probability: z.number(), ...boundedShareFields })
      .meta({ description: 'first tests after a "test" alert, against the shop’s chosen probability' }),
    brier: z
      .object({
        windowsScore: z.number().nullable(),
        fixedTimerScore: z.number().nullable(),
        doublingRuleScore: z.number().nullable(),
      })
      .meta({ description: 'mean squared error of "it powders now", 0 is best; a timer says 0 or 1' }),
  })
  .meta({ id: 'Reliability' });

export const healthSchema = z
  .object({
    status: z.enum(['ok', 'degraded']),
    version: z.string(),
    sequence: z.int(),
    parts: z.object({
      ledger: z.string(),
      broker: z.string(),
      sensors: z.string(),
      outbox: z.string(),
      copies: z.string().meta({ description: 'why the last copy of the shop failed; degrades nothing' }),
    }),
    outbox: z.object({
      owedCount: z.int().meta({ description: 'messages to phones and programs that wait' }),
      oldestS: z.number().nullable().meta({ description: '[s] how long the oldest has waited' }),
      givenUpCount: z.int().meta({ description: 'tried in vain and tried no more: see Setup' }),
    }),
  })
  .meta({ id: 'Health' });

export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    code: z.string().optional(),
    detail: z.string().optional(),
    errors: z.array(z.object({ path: z.string(), reason: z.string(), allowed: z.string() })).optional(),
    conflict: z
      .object({ version: z.int(), changes: z.array(touchSchema) })
      .optional()
      .meta({ description: 'what others have changed since, newest first' }),
  })
  .meta({ id: 'Problem', description: 'RFC 9457' });

export const airColumnsSchema = z
  .object({
    at: z.array(instantText),
    sensorId: z.array(z.string().nullable()),
    airTemperatureC: z.array(z.number().nullable()),
    relativeHumidityPct: z.array(z.number().nullable()),
    panelTemperatureC: z.array(z.number().nullable()),
    trust: z.array(z.enum(TRUSTS)),
  })
  .meta({ id: 'AirColumns' });

export type Trust = (typeof TRUSTS)[number];
export type BayWire = z.infer<typeof baySchema>;
export type CardWire = z.infer<typeof cardSchema>;
export type AlertWire = z.infer<typeof alertSchema>;
export type AlertSubjectWire = AlertWire['subjects'][number];
export type SensorWire = z.infer<typeof sensorSchema>;
export type RefusedPayload = z.infer<typeof refusedPayloadSchema>;
export type SnapshotWire = z.infer<typeof snapshotSchema>;
export type ChangeWire = z.infer<typeof changeSchema>;
export type AirMessage = z.infer<typeof airMessageSchema>;
export type HealthWire = z.infer<typeof healthSchema>;
export type ReliabilityWire = z.infer<typeof reliabilitySchema>;
export type ProblemWire = z.infer<typeof problemSchema>;
export type AirColumnsWire = z.infer<typeof airColumnsSchema>;
