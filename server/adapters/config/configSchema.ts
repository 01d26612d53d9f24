// The config file: one schema, which is its manual too. Every key says what it is; an unknown key stops the start.
import { z } from 'zod';
import {
  refuseTwice,
  type Refinement,
  BAY_KINDS,
  CHANNEL_LIMITS,
  idField,
  initialsField,
  LANGUAGES,
  limited,
  nameField,
  SUBSTRATES,
  timeZoneField,
  UNIT_CHOICES,
  webhookEventsField,
  webhookUrlField,
} from '../../contract/index.ts';
import { accessField, checkAccess, hostField, tlsField } from './accessConfig.ts';
import { copiesField, keepReadingsField } from './storeConfig.ts';

const port = z.int().min(0).max(65_535);

export const configSchema = z
  .strictObject({
    version: z.literal(1).describe('Of this file’s form.'),
    shop: z.strictObject({
      name: nameField.describe('Shown on every page.'),
      timeZone: timeZoneField.describe('Days are local days; the wire stays UTC.'),
      language: z.enum(LANGUAGES).optional().describe('Until a device chooses another; en when left out.'),
      units: z
        .strictObject({
          temperature: z.enum(UNIT_CHOICES.temperature),
          length: z.enum(UNIT_CHOICES.length),
          mass: z.enum(UNIT_CHOICES.mass),
        })
        .optional()
        .describe('Until a device chooses others; C, mm and g when left out.'),
    }),
    http: z.strictObject({
      host: hostField,
      port: port.describe('Pages and API. 0: any free one.'),
      tls: tlsField,
    }),
    mqtt: z.strictObject({
      host: hostField,
      tls: tlsField,
      port: port.describe('The built-in broker. 0: any free one.'),
      topicPrefix: z
        .string()
        .refine((text) => /^[^#+\s]+[^#+\s/]$/.test(text), {
          error: 'is no topic prefix',
          params: { allowed: 'levels without #, + or a blank, such as sandby/v1' },
        })
        .describe('Readings are taken from PREFIX/readings/SENSOR.'),
    }),
    access: accessField,
    dataFolder: z.string().min(1).describe('Ledger and air table; relative to the working folder.'),
    copies: copiesField,
    keepReadingsDays: keepReadingsField,
    clock: z
      .discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('wall') }),
        z.strictObject({
          kind: z.literal('simulated'),
          rate: z.number().min(1).max(1000).describe('Shop seconds in a second.'),
          startsAt: z
            .string()
            .refine((text) => /^([01]\d|2[0-3]):[0-5]\d$/.test(text), {
              error: 'is no time of day',
              params: { allowed: 'such as 06:40' },
            })
            .describe('Local time of day at the first start; later starts go on where the last one ended.'),
        }),
      ])
      .describe('The wall clock for a real shop.'),
    simulator: z
      .strictObject({ scenario: idField, seed: z.int().min(0) })
      .optional()
      .describe('Plays sensors and people; needs the simulated clock. Leave it out in a real shop.'),
    cardsFile: z.string().min(1).describe('Products; relative to this file.'),
    bays: z
      .array(
        z.strictObject({
          id: idField,
          name: nameField,
          kind: z.enum(BAY_KINDS).describe('The yard’s air is the outdoor air of cars that roll in.'),
          movingAir: z.boolean().optional().describe('A fan or extraction blows over the panels.'),
          substrate: z
            .enum(SUBSTRATES)
            .optional()
            .describe('What is usually worked on there; steel when left out.'),
        }),
      )
      .min(1)
      .max(200),
    sensors: z.array(z.strictObject({ id: idField, bayId: idField })).max(1000),
    lamps: z
      .array(
        z.strictObject({
          id: idField,
          name: nameField,
          distances: z
            .array(z.strictObject({ distanceCm: limited('distanceCm'), fluxWPerM2: limited('fluxWPerM2') }))
            .min(1)
            .describe('The flux that a panel absorbs, measured once a distance; nearest first.'),
        }),
      )
      .max(50),
    people: z.array(z.strictObject({ initials: initialsField, name: nameField.optional() })).max(500),
    webhooks: z
      .array(
        z.strictObject({
          id: idField,
          name: nameField,
          url: webhookUrlField.describe('http or https; each message is posted there as JSON, signed.'),
          events: webhookEventsField.optional().describe('Kinds of alerts; all when left out.'),
        }),
      )
      .max(CHANNEL_LIMITS.webhooksCount)
      .optional()
      .describe(
        'Programs that are told of alerts. Their secrets are made by the program and shown once in Setup.',
      ),
    pushContact: z
      .string()
      .refine((text) => /^(mailto:[^\s@]+@[^\s@]+|https:\/\/\S+)$/.test(text), {
        error: 'is no contact',
        params: { allowed: 'mailto:somebody@example.org or https://…' },
      })
      .optional()
      .describe(
        'Whom a push service of a browser may ask about this shop; some refuse to work without (RFC 8292).',
      ),
    panels: z.array(nameField).min(1).max(100),
    learning: z
      .boolean()
      .optional()
      .describe('Whether windows start from what closed batches taught; true when left out.'),
    alerts: z.strictObject({
      testProbabilityPct: z
        .number()
        .min(60)
        .max(95)
        .describe('“Test” is said when it is this likely to powder.'),
      spreadByS: z.number().min(0).max(600).describe('How long before the mix kicks “spread by” is said.'),
      waitingMin: z.number().min(1).max(240).describe('How long a “test” may go unanswered.'),
      slowingMin: limited('slowingMin')
        .optional()
        .describe('A window that moved later by more than this is slowing; 3 when left out.'),
      slowingPct: limited('slowingPct')
        .optional()
        .describe('And by more than this much of its own minutes; 20 when left out.'),
      sensorQuietMin: limited('sensorQuietMin')
        .optional()
        .describe('Longer silence of a sensor is told; 10 when left out.'),
      sound: z
        .boolean()
        .optional()
        .describe('Whether screens sound until one is told otherwise; true when left out.'),
    }),
  })
  .superRefine(checkReferences);

export type Config = z.infer<typeof configSchema>;

export const cardsSchema = z
  .strictObject({
    version: z.literal(1),
    cards: z
      .array(
        z.strictObject({
          id: idField,
          name: nameField,
          fill: z.enum(['regular', 'light']),
          atC: z.number().min(-5).max(45).describe('[°C] The temperature that the statement is for.'),
          thicknessMm: limited('thicknessMm'),
          hardenerPct: limited('hardenerPct'),
          workingMin: z.number().min(0.5).max(120),
          sandMin: z.number().min(1).max(600),
          lowestC: z.number().min(-20).max(40).describe('[°C] Below this the tin promises nothing.'),
          thicknessMaxMm: limited('thicknessMm').describe('[mm] A thicker film gets a warning.'),
          activationKJPerMol: z.number().min(10).max(150).optional(),
          humidityEffectPer10Pct: z.number().min(-0.2).max(0.2).optional(),
        }),
      )
      .min(1)
      .max(200),
  })
  .superRefine((file, context) => refuseTwice(file.cards, { path: ['cards'], key: 'id', context }));

function checkReferences(
  config: Pick<
    Config,
    'bays' | 'sensors' | 'lamps' | 'webhooks' | 'simulator' | 'clock' | 'http' | 'mqtt' | 'access'
  >,
  context: Refinement,
): void {
  checkAccess(config, context);
  for (const list of ['bays', 'sensors', 'lamps', 'webhooks'] as const)
    refuseTwice(config[list] ?? [], { path: [list], key: 'id', context });
  const bayIds = config.bays.map((bay) => bay.id);
  for (const [index, sensor] of config.sensors.entries()) {
    if (bayIds.includes(sensor.bayId)) continue;
    const path = ['sensors', index, 'bayId'];
    context.addIssue({
      code: 'custom',
      path,
      message: 'names no bay of this file',
      params: { allowed: bayIds.join(', ') },
    });
  }
  if (config.simulator !== undefined && config.clock.kind !== 'simulated') {
    const params = { allowed: 'leave it out, or set clock.kind to simulated' };
    context.addIssue({ code: 'custom', path: ['simulator'], message: 'needs the simulated clock', params });
  }
}
