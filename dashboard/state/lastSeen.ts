// What the shop said last, as the device keeps it: a page that opens without a connection goes on counting from it.
import type { LiveState } from './liveState.ts';

export interface LastSeen {
  /** The build that wrote it: another one may read the state otherwise. */
  readonly build: string;
  /** This device's wall clock at the time of writing, epoch ms. */
  readonly keptAt: number;
  /** The shop's time then, epoch ms. */
  readonly shopAt: number;
  readonly live: LiveState;
}

/** After a shift the open batches have long been sanded, and what was seen would only mislead [min]. */
export const LAST_SEEN_MAX_MIN = 480;
const MS_PER_MIN = 60_000;

/** Reads what was kept; null when it is missing, another build's, too old, or from a clock that was set back since. */
export function parseLastSeen(
  text: string | null,
  { build, wallAt }: { readonly build: string; readonly wallAt: number },
): LastSeen | null {
  if (text === null) return null;
  try {
    const value: unknown = JSON.parse(text);
    if (!isLastSeen(value) || value.build !== build) return null;
    const passedMs = wallAt - value.keptAt;
    return passedMs >= 0 && passedMs <= LAST_SEEN_MAX_MIN * MS_PER_MIN ? value : null;
  } catch {
    return null;
  }
}

/** The shop's time now, counted on from what was kept. */
export function shopAtFrom({ keptAt, shopAt, live }: LastSeen, wallAt: number): number {
  return Math.round(shopAt + (wallAt - keptAt) * live.rate);
}

function isLastSeen(value: unknown): value is LastSeen {
  if (typeof value !== 'object' || value === null) return false;
  const seen = value as Partial<LastSeen>;
  return (
    typeof seen.build === 'string' &&
    typeof seen.keptAt === 'number' &&
    typeof seen.shopAt === 'number' &&
    typeof seen.live === 'object' &&
    typeof seen.live?.rate === 'number' &&
    Array.isArray(seen.live.batches)
  );
}
