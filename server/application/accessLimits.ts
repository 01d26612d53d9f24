// How often something may be tried: a few times at once, then one by one, counted in elapsed time.

export interface Limit {
  /** So many at once. */
  readonly burstCount: number;
  /** One more each. */
  readonly refillMs: number;
}

export interface Limiter {
  /** Takes one try of a source, or one that counts as many; null when it may, else how long to wait [ms]. */
  take(source: string, nowMs: number, triesCount?: number): number | null;
  /** Gives the tries of a source back: it has shown that it may. */
  forgive(source: string): void;
}

export interface Pacer {
  /** Takes some places in the line of a source; how long until it is its turn [ms], 0 for at once. */
  take(source: string, nowMs: number, placesCount?: number): number;
  /** Forgets what a source owes. */
  forgive(source: string): void;
}

/** Sources that are remembered; one more makes the one that was quiet for longest forgotten. */
const SOURCES_KEPT_COUNT = 2000;

interface Bucket {
  leftCount: number;
  filledMs: number;
}

/** Makes a limit for each source and, where wanted, one for all of them together. */
export function makeLimiter(each: Limit, inAll: Limit | null = null): Limiter {
  const bySource = new Map<string, Bucket>();
  const all: Bucket | null = inAll === null ? null : { leftCount: inAll.burstCount, filledMs: 0 };
  return {
    take(source, nowMs, triesCount = 1) {
      const own = bySource.get(source) ?? { leftCount: each.burstCount, filledMs: nowMs };
      // Put behind all others: whoever stands first was quiet for longest.
      bySource.delete(source);
      bySource.set(source, own);
      dropOldest(bySource);
      const waitMs = Math.max(
        waitOf(own, { limit: each, nowMs }),
        all === null || inAll === null ? 0 : waitOf(all, { limit: inAll, nowMs }),
      );
      if (waitMs > 0) return waitMs;
      own.leftCount -= triesCount;
      if (all !== null) all.leftCount -= triesCount;
      return null;
    },
    forgive(source) {
      if (bySource.delete(source) && all !== null) all.leftCount += 1;
    },
  };
}

/** Makes a pace that refuses nobody: what comes faster waits, each for the one before it. */
export function makePacer({ burstCount, refillMs }: Limit): Pacer {
  const nextMsOf = new Map<string, number>();
  return {
    take(source, nowMs, placesCount = 1) {
      const burstMs = burstCount * refillMs;
      const beginsMs = Math.max(nextMsOf.get(source) ?? Number.NEGATIVE_INFINITY, nowMs - burstMs);
      const turnMs = beginsMs + placesCount * refillMs;
      nextMsOf.set(source, turnMs);
      return Math.max(0, turnMs - nowMs);
    },
    forgive(source) {
      nextMsOf.delete(source);
    },
  };
}

/** Fills what has come since, and tells how long until one is there [ms]. */
function waitOf(bucket: Bucket, { limit, nowMs }: { limit: Limit; nowMs: number }): number {
  const come = Math.max(0, nowMs - bucket.filledMs) / limit.refillMs;
  bucket.leftCount = Math.min(limit.burstCount, bucket.leftCount + come);
  bucket.filledMs = nowMs;
  return bucket.leftCount >= 1 ? 0 : Math.ceil((1 - bucket.leftCount) * limit.refillMs);
}

function dropOldest(bySource: Map<string, Bucket>): void {
  if (bySource.size <= SOURCES_KEPT_COUNT) return;
  const [oldest] = bySource.keys();
  if (oldest !== undefined) bySource.delete(oldest);
}
