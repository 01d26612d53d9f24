// Building blocks of the schemas: bounded numbers, identifiers, instants.
import { z } from 'zod';
import { type Instant, instantFromIso } from './instant.ts';
import { LIMITS, type LimitedField, TEXT_MAX } from './limits.ts';

/** A number inside the table's bounds; its unit and bounds are its description. */
export function limited(field: LimitedField): z.ZodNumber {
  const limit = LIMITS[field];
  return z
    .number()
    .min(limit.min)
    .max(limit.max)
    .meta({ description: `[${limit.unit}] ${limit.min} … ${limit.max}` });
}

/** A short identifier as it stands in topics and paths. */
export const idField = z
  .string()
  .min(1, { abort: true })
  .max(TEXT_MAX.id)
  .refine((text) => /^[A-Za-z0-9][A-Za-z0-9\-:._]*$/.test(text), {
    error: 'has a character that an identifier may not have',
    params: { allowed: 'letters, digits, - : . _ (first one a letter or digit)' },
  });

/** A text that a screen can show and every store keeps as it is. */
function textField(lengthMax: number): z.ZodString {
  return z
    .string()
    .trim()
    .min(1)
    .max(lengthMax)
    .refine((text) => !/[\p{Cc}\p{Cs}]/u.test(text), {
      error: 'has a character that cannot be shown',
      params: { allowed: 'text without control characters' },
    });
}

/** A short text for people. */
export const nameField = textField(TEXT_MAX.name);

/** The initials by which a shop tells its people apart. */
export const initialsField = textField(TEXT_MAX.initials);

/** An instant: ISO 8601 with a zone on the wire, epoch milliseconds inside. */
export const instantField = z.iso
  .datetime({ offset: true })
  .transform((text): Instant => instantFromIso(text) as Instant);

/** An instant as the server writes it. */
export const instantText = z.iso.datetime().meta({ description: 'ISO 8601, UTC' });

/** What a rule over several fields tells of one of them. */
export interface Refinement {
  addIssue(issue: {
    code: 'custom';
    path: (string | number)[];
    message: string;
    params: { allowed: string };
  }): void;
}

/** Refuses a list in which a key stands twice, at the later place. */
export function refuseTwice(
  list: readonly Readonly<Record<string, unknown>>[],
  { path, key, context }: { path: readonly string[]; key: string; context: Refinement },
): void {
  const seen = new Set<unknown>();
  for (const [index, entry] of list.entries()) {
    if (seen.has(entry[key])) {
      const params = { allowed: 'each once' };
      context.addIssue({ code: 'custom', path: [...path, index, key], message: 'stands twice', params });
    }
    seen.add(entry[key]);
  }
}
