// What people keep in their heads where there is no screen: what was spread, lit, moved and is being sanded.
import { type BatchWire, instantFromIso, isoFromInstant } from '../../server/contract/index.ts';
import { isGelled } from '../film/batchTruth.ts';
import { laterAt } from '../localDay.ts';
import type { Act, Crew, PeopleView } from '../people/crew.ts';

/** Open batches by their keys. */
export type Memory = ReadonlyMap<string, Remembered>;

export interface Remembered {
  readonly bayId: string;
  readonly spreadAt: string | null;
  readonly lamps: BatchWire['lamps'];
  readonly isSanding: boolean;
}

/** The memory after some acts. */
export function remember(before: Memory, acts: readonly Act[]): Memory {
  if (acts.length === 0) return before;
  const memory = new Map(before);
  for (const act of acts) {
    const known = memory.get(act.key);
    const now = act.kind === 'start' ? fresh(act.body.bayId) : known && changedBy(known, act);
    if (now === undefined || now === null) memory.delete(act.key);
    else memory.set(act.key, now);
  }
  return memory;
}

/** What people would see if they looked: whether a mix has gelled shows on the board it was mixed on. */
export function viewFrom(memory: Memory, crew: Crew): PeopleView {
  const batches = crew.batches.flatMap((batch) => {
    const known = memory.get(batch.key);
    if (known === undefined) return [];
    const stage = known.isSanding ? 'sanding' : isGelled(batch.truth) ? 'kicked' : 'wet';
    const { bayId, spreadAt, lamps } = known;
    return [[batch.key, { stage, bayId, spreadAt, lamps, estimate: null }] as const];
  });
  return { batches: new Map(batches), pendingKeys: NONE };
}

function fresh(bayId: string): Remembered {
  return { bayId, spreadAt: null, lamps: [], isSanding: false };
}

/** Null for a batch that is done with. */
function changedBy(known: Remembered, { at, body }: Extract<Act, { kind: 'command' }>): Remembered | null {
  switch (body.type) {
    case 'markSpread':
      return { ...known, spreadAt: isoFromInstant(at) };
    case 'recordCheck':
      return { ...known, isSanding: body.outcome === 'powders' };
    case 'moveToBay':
      return { ...known, bayId: body.bayId };
    case 'switchLamp': {
      const fromAt = instantFromIso(body.at ?? '') ?? at;
      const spell = {
        lampId: body.lampId,
        fromAt: isoFromInstant(fromAt),
        untilAt: isoFromInstant(laterAt(fromAt, body.forMin)),
        distanceCm: body.distanceCm ?? null,
        fluxWPerM2: 0,
      };
      return { ...known, lamps: [...known.lamps, spell] };
    }
    case 'finishSanding':
    case 'scrap':
      return null;
    case 'undo':
      return known;
  }
}

const NONE: ReadonlySet<string> = new Set();
