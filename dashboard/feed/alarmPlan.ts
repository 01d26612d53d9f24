// When this device rings: one sound for all that falls due together, and each kind of sound once a minute. Pure.
import type { AlertKind, AlertWire } from '../../server/contract/index.ts';

/** Each has a sound of its own; a timer is one of this device, not of the shop. */
export type Ring = 'spreadBy' | 'test' | 'timer' | 'warning';

export interface RingMemory {
  /** When each last rang, by this device's steady clock. */
  readonly rangMs: Readonly<Partial<Record<Ring, number>>>;
  /** What came too soon after the one before: it rings when the minute is over, if it still stands then. */
  readonly held: readonly { readonly id: string; readonly ring: Ring }[];
}

export interface RingAsk {
  readonly fresh: readonly Pick<AlertWire, 'id' | 'kind'>[];
  readonly openIds: ReadonlySet<string>;
  readonly nowMs: number;
}

export interface RingPlan {
  /** To be played now, one after the other. */
  readonly rings: readonly Ring[];
  readonly memory: RingMemory;
  /** When to ask again; null: when something new is there. */
  readonly nextMs: number | null;
}

export const SILENCE: RingMemory = { rangMs: {}, held: [] };

/** What rings now, and what is held until its minute is over. */
export function planRings(memory: RingMemory, { fresh, openIds, nowMs }: RingAsk): RingPlan {
  const asked = fresh.flatMap(({ id, kind }) => {
    const ring = ringOf(kind);
    return ring === null || isTogether(memory.rangMs[ring], nowMs) ? [] : [{ id, ring }];
  });
  const waiting = [...memory.held, ...asked].filter(({ id }) => openIds.has(id));
  const rings = RINGS.filter(
    (ring) => waiting.some((one) => one.ring === ring) && isOver(memory.rangMs[ring], nowMs),
  );
  const held = waiting.filter(({ ring }) => !rings.includes(ring));
  const rangMs = { ...memory.rangMs, ...Object.fromEntries(rings.map((ring) => [ring, nowMs])) };
  const turns = held.map(({ ring }) => (rangMs[ring] ?? nowMs) + AGAIN_MS);
  return { rings, memory: { rangMs, held }, nextMs: turns.length === 0 ? null : Math.min(...turns) };
}

/** The sound of an alert; that something is well again needs no ear. */
export function ringOf(kind: AlertKind): Ring | null {
  if (kind === 'spreadBy' || kind === 'test') return kind;
  return kind === 'sensorBack' ? null : 'warning';
}

function isTogether(rangMs: number | undefined, nowMs: number): boolean {
  return rangMs !== undefined && nowMs - rangMs < TOGETHER_MS;
}

function isOver(rangMs: number | undefined, nowMs: number): boolean {
  return rangMs === undefined || nowMs - rangMs >= AGAIN_MS;
}

/** Whoever looks up at a sound sees all that comes within this time. */
const TOGETHER_MS = 10_000;
const AGAIN_MS = 60_000;
/** A mix that spoils is heard first. */
const RINGS: readonly Ring[] = ['spreadBy', 'test', 'warning'];
