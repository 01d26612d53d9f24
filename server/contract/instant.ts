// Instants: ISO 8601 on every wire, branded integer milliseconds inside. Every door turns them over here.

/** Epoch milliseconds UTC, an integer. */
export type Instant = number & { readonly __brand: 'Instant' };

export const MS_PER_MIN = 60_000;

/** Brands a number of epoch milliseconds, rounded to a whole one. */
export function instantFromMs(epochMs: number): Instant {
  return Math.round(epochMs) as Instant;
}

/** Reads an ISO 8601 text with zone; null when it is none. */
export function instantFromIso(text: string): Instant | null {
  const epochMs = Date.parse(text);
  return Number.isFinite(epochMs) ? instantFromMs(epochMs) : null;
}

/** Writes an instant as ISO 8601 in UTC. */
export function isoFromInstant(instantAt: Instant): string {
  return new Date(instantAt).toISOString();
}

/** Writes an instant that may be missing. */
export function isoFromInstantOrNull(instantAt: Instant | null | undefined): string | null {
  return instantAt === null || instantAt === undefined ? null : isoFromInstant(instantAt);
}
