// What leaves the pages: the messages to programs and phones, and what Setup shows and asks of them.
import { z } from 'zod';
import { ALERT_KINDS, ALERT_PLACES } from './alertTerms.ts';
import { CHANNEL_LIMITS, DELIVERY_MESSAGES, TROUBLE_CODES } from './deliverTerms.ts';
import { initialsField, instantText } from './fields.ts';
import { LANGUAGES } from './settings.ts';
import { alertSchema } from './shop.ts';

/** An uncompressed point of P-256, and the secret of 16 bytes: RFC 8291, section 2. */
const P256DH_LENGTH = 87;
const AUTH_LENGTH = 22;

/** The body of a webhook: the form that Standard Webhooks recommends. */
export const webhookMessageSchema = z
  .object({
    type: z.enum(['alert.raised', 'alert.changed', 'alert.withdrawn', 'trial']),
    timestamp: instantText.meta({ description: 'when it became so, in the shop' }),
    data: z.object({
      shop: z.object({ name: z.string() }),
      alert: alertSchema.nullable().meta({ description: 'as it stands now; null in a trial' }),
    }),
  })
  .meta({ id: 'WebhookMessage' });

/** What the worker of a device gets, encrypted on the way (RFC 8291). */
export const pushMessageSchema = z
  .object({
    id: z.string().meta({ description: "the alert's; one notification each" }),
    message: z.enum([...DELIVERY_MESSAGES, 'trial']),
    kind: z.enum(ALERT_KINDS).nullable().meta({ description: 'null in a trial' }),
    name: z.string().meta({ description: 'the panel or sensor that it is about' }),
    subjectCount: z.int().meta({ description: 'more than one: a line for many of a kind' }),
    language: z.enum(LANGUAGES),
  })
  .meta({ id: 'PushMessage' });

export const subscribeBody = z
  .strictObject({
    endpoint: endpointField(),
    keys: z.strictObject({ p256dh: bytesField(P256DH_LENGTH), auth: bytesField(AUTH_LENGTH) }),
    language: z.enum(LANGUAGES),
    person: initialsField.nullable().meta({ description: 'whose calls it takes; null: everybody’s' }),
    screens: z.array(z.enum(ALERT_PLACES)).min(1).meta({ description: 'whose alerts it takes' }),
  })
  .meta({ id: 'Subscribe', description: 'The same endpoint again changes what is kept of it.' });

export const endpointBody = z.strictObject({ endpoint: endpointField() }).meta({ id: 'EndSubscription' });

export const pushKeySchema = z
  .object({ publicKey: z.string().meta({ description: 'of this shop, for a subscription (RFC 8292)' }) })
  .meta({ id: 'PushKey' });

export const subscribedSchema = z.object({ id: z.string() }).meta({ id: 'Subscribed' });

const troubleSchema = z.object({
  code: z.enum(TROUBLE_CODES),
  status: z.int().nullable().meta({ description: 'of the HTTP answer, where one came' }),
});

export const givenUpSchema = z
  .object({
    alertId: z.string(),
    channelId: z.string(),
    channelName: z.string().nullable().meta({ description: 'of a webhook' }),
    person: z.string().nullable().meta({ description: 'of a phone' }),
    message: z.enum(DELIVERY_MESSAGES),
    kind: z.enum(ALERT_KINDS),
    name: z.string().nullable().meta({ description: 'the panel or sensor; null for many' }),
    subjectCount: z.int(),
    at: instantText,
    triesCount: z.int(),
    trouble: troubleSchema,
  })
  .meta({ id: 'GivenUp' });

export const notificationsSchema = z
  .object({
    webhooks: z.array(
      z.object({
        id: z.string(),
        secretMadeAt: instantText.nullable().meta({ description: 'null: none yet' }),
      }),
    ),
    phones: z.array(
      z.object({
        id: z.string(),
        service: z.string().meta({ description: 'the push service’s host' }),
        language: z.enum(LANGUAGES),
        person: z.string().nullable(),
        screens: z.array(z.enum(ALERT_PLACES)),
        sinceAt: instantText,
      }),
    ),
    owed: z.object({
      count: z.int(),
      oldestS: z.number().nullable().meta({ description: '[s] since when the oldest waits' }),
    }),
    givenUp: z.array(givenUpSchema).meta({ description: 'newest first' }),
    topicPrefix: z.string().meta({ description: 'of the MQTT topics' }),
  })
  .meta({ id: 'Notifications' });

export const secretSchema = z
  .object({ id: z.string(), secret: z.string().meta({ description: 'told this once' }) })
  .meta({ id: 'WebhookSecret' });

export const trialSchema = z
  .object({ delivered: z.boolean(), trouble: troubleSchema.nullable() })
  .meta({ id: 'Trial' });

export const deliveryAskBody = z
  .strictObject({
    alertId: z.string().max(200),
    channelId: z.string().max(200),
    by: initialsField.optional(),
  })
  .meta({ id: 'DeliveryAsk' });

export type WebhookMessage = z.infer<typeof webhookMessageSchema>;
export type PushMessage = z.infer<typeof pushMessageSchema>;
export type Subscribe = z.infer<typeof subscribeBody>;
export type GivenUpWire = z.infer<typeof givenUpSchema>;
export type NotificationsWire = z.infer<typeof notificationsSchema>;
export type PushKeyWire = z.infer<typeof pushKeySchema>;
export type TrialWire = z.infer<typeof trialSchema>;
export type WebhookSecretWire = z.infer<typeof secretSchema>;
export type DeliveryAsk = z.infer<typeof deliveryAskBody>;

/** Whoever knows it can send to the phone; no name, password or part of a page in it. */
function endpointField(): z.ZodString {
  return z
    .string()
    .max(2 * CHANNEL_LIMITS.urlCharactersMax)
    .refine(
      (text) => URL.canParse(text) && new URL(text).protocol === 'https:' && new URL(text).username === '',
      {
        error: 'is no address of a push service',
        params: { allowed: 'https://' },
      },
    );
}

/** Bytes in base64url, by the length of their text. */
function bytesField(length: number): z.ZodString {
  return z.string().refine((text) => text.replace(/=+$/, '').length === length && /^[\w-]+=*$/.test(text), {
    error: 'has the wrong form',
    params: { allowed: `base64url of ${length} characters` },
  });
}
