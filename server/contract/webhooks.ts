// Programs elsewhere that are told of alerts, as settings hold them and as a form puts them.
import { z } from 'zod';
import { ALERT_KINDS } from './alertTerms.ts';
import { CHANNEL_LIMITS } from './deliverTerms.ts';
import { idField, nameField, refuseTwice } from './fields.ts';

/** An address that a message is posted to. */
export const webhookUrlField = z
  .string()
  .trim()
  .min(1)
  .max(CHANNEL_LIMITS.urlCharactersMax)
  .refine(isPlainWebAddress, {
    error: 'is no address to post to',
    params: { allowed: 'http:// or https://, without a name and password in it' },
  });

export const webhookEventsField = z
  .array(z.enum(ALERT_KINDS))
  .min(1)
  .nullable()
  .meta({ description: 'the kinds of alerts that it is told of; null: all' });

export const webhookSchema = z.object({
  id: z.string(),
  name: z.string(),
  url: z.string(),
  events: z.array(z.enum(ALERT_KINDS)).nullable(),
});

export const putWebhooksField = z
  .array(
    z.strictObject({
      id: idField,
      name: nameField.optional().meta({ description: 'needed for a new one, as is url' }),
      url: webhookUrlField.optional(),
      events: webhookEventsField.optional(),
      removed: z.boolean().optional(),
    }),
  )
  .max(CHANNEL_LIMITS.webhooksCount)
  .superRefine((list, context) => refuseTwice(list, { path: [], key: 'id', context }));

export type WebhookWire = z.infer<typeof webhookSchema>;

function isPlainWebAddress(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const { protocol, username, password, hostname } = new URL(text);
  return /^https?:$/.test(protocol) && username === '' && password === '' && hostname !== '';
}
