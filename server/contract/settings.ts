// What a shop sets by hand: its name and zone, people, bays, alert rules, sensors; bodies and answers of Setup.
import { z } from 'zod';
import { SUBSTRATES } from './commands.ts';
import { idField, initialsField, instantText, limited, nameField, refuseTwice } from './fields.ts';
import { putWebhooksField, webhookSchema } from './webhooks.ts';

export const LANGUAGES = ['en', 'es'] as const;
export const BAY_KINDS = ['bay', 'booth', 'yard'] as const;
/** In what a shop's devices show things until one chooses otherwise. */
export const UNIT_CHOICES = { temperature: ['C', 'F'], length: ['mm', 'in'], mass: ['g', 'oz'] } as const;
const BAYS_COUNT_MAX = 200;
const PEOPLE_COUNT_MAX = 500;

/** Whether a text names a time zone that this machine knows. */
function isTimeZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

export const timeZoneField = z.string().refine(isTimeZone, {
  error: 'is not a time zone',
  params: { allowed: 'an IANA name such as Europe/Madrid' },
});

/** Who asks, and what they have seen; shared by all that Setup changes. */
export const askedBy = {
  expectedVersion: z
    .int()
    .min(0)
    .optional()
    .meta({ description: 'what was shown; refused when others have changed it since' }),
  by: initialsField.optional(),
};

const personSettingSchema = z.object({
  initials: z.string(),
  name: z.string().nullable(),
  active: z.boolean().meta({ description: 'false: no longer offered on screens; records keep the initials' }),
});

const baySettingSchema = z.object({
  id: z.string(),
  name: z.string(),
  kind: z.enum(BAY_KINDS),
  movingAir: z.boolean(),
  substrate: z.enum(SUBSTRATES).meta({ description: 'what is usually worked on there' }),
});

export const unitsSchema = z.object({
  temperature: z.enum(UNIT_CHOICES.temperature),
  length: z.enum(UNIT_CHOICES.length),
  mass: z.enum(UNIT_CHOICES.mass),
});

export const touchSchema = z
  .object({
    version: z.int(),
    at: instantText,
    by: z.string().nullable(),
    paths: z.array(z.string()).meta({ description: 'what was changed, such as alerts.waitingMin' }),
  })
  .meta({ id: 'SettingsTouch' });

export const settingsSchema = z
  .object({
    version: z.int().meta({ description: 'counts changes by hand; 0 while the config alone speaks' }),
    shop: z.object({
      name: z.string(),
      timeZone: z.string(),
      language: z.enum(LANGUAGES),
      units: unitsSchema,
    }),
    alerts: z.object({
      testProbabilityPct: z.number(),
      spreadByS: z.number(),
      waitingMin: z.number(),
      slowingMin: z.number(),
      slowingPct: z.number(),
      sensorQuietMin: z.number(),
      sound: z.boolean(),
    }),
    beadGramsPer10Cm: z
      .number()
      .nullable()
      .meta({ description: '[g] of 10 cm of the shop’s own bead of hardener' }),
    people: z.array(personSettingSchema),
    bays: z.array(baySettingSchema),
    webhooks: z.array(webhookSchema).meta({ description: 'programs elsewhere that are told of alerts' }),
    changes: z.array(touchSchema).meta({ description: 'the last ones, newest first' }),
  })
  .meta({ id: 'Settings' });

export const putSettingsBody = z
  .strictObject({
    ...askedBy,
    shop: z
      .strictObject({
        name: nameField.optional(),
        timeZone: timeZoneField.optional(),
        language: z.enum(LANGUAGES).optional(),
        units: z
          .strictObject({
            temperature: z.enum(UNIT_CHOICES.temperature).optional(),
            length: z.enum(UNIT_CHOICES.length).optional(),
            mass: z.enum(UNIT_CHOICES.mass).optional(),
          })
          .optional(),
      })
      .optional(),
    alerts: z
      .strictObject({
        testProbabilityPct: limited('testProbabilityPct').optional(),
        spreadByS: limited('spreadByS').optional(),
        waitingMin: limited('waitingMin').optional(),
        slowingMin: limited('slowingMin').optional(),
        slowingPct: limited('slowingPct').optional(),
        sensorQuietMin: limited('sensorQuietMin').optional(),
        sound: z.boolean().optional(),
      })
      .optional(),
    beadGramsPer10Cm: limited('beadGramsPer10Cm').nullable().optional(),
    people: z
      .array(
        z.strictObject({
          initials: initialsField,
          name: nameField.nullable().optional(),
          active: z.boolean().optional(),
        }),
      )
      .max(PEOPLE_COUNT_MAX)
      .superRefine((list, context) => refuseTwice(list, { path: [], key: 'initials', context }))
      .optional(),
    bays: z
      .array(
        z.strictObject({
          id: idField,
          name: nameField,
          kind: z.enum(BAY_KINDS).optional(),
          movingAir: z.boolean().optional(),
          substrate: z.enum(SUBSTRATES).optional(),
        }),
      )
      .max(BAYS_COUNT_MAX)
      .superRefine((list, context) => refuseTwice(list, { path: [], key: 'id', context }))
      .optional(),
    webhooks: putWebhooksField.optional(),
  })
  .meta({
    id: 'PutSettings',
    description:
      'What is left out stays as it is; people, bays and webhooks that are not in a list stay too.',
  });

export const putSensorBody = z
  .strictObject({
    ...askedBy,
    bayId: idField.nullable().optional().meta({ description: 'null takes the sensor out of its bay' }),
    name: nameField.nullable().optional(),
    airTemperatureOffsetK: limited('airTemperatureOffsetK').optional(),
    relativeHumidityOffsetPct: limited('relativeHumidityOffsetPct').optional(),
  })
  .meta({ id: 'PutSensor', description: 'What is left out stays as it is.' });

export type Language = (typeof LANGUAGES)[number];
export type ShownUnits = z.infer<typeof unitsSchema>;
export type SettingsWire = z.infer<typeof settingsSchema>;
export type SettingsTouchWire = z.infer<typeof touchSchema>;
export type PutSettings = z.infer<typeof putSettingsBody>;
export type PutSensor = z.infer<typeof putSensorBody>;
