// What the live feed remembers: the head it has told, and the changes before it, for screens that were away for a moment.
import type { ChangeWire } from '../../contract/index.ts';

/** Where a ledger stands, as a screen and the feed tell each other. */
export interface FeedHead {
  readonly ledgerId: string;
  readonly sequence: number;
}

export interface FeedMemory {
  /** From then on only what is told after this head can be missed. */
  begin(head: FeedHead): void;
  takeChange(change: ChangeWire): void;
  /** With a sequence, what came before it tells nobody any more of what is so now. */
  takeResync(sequence?: number): void;
  /**
   * What a screen has missed that says where it stands: `ledgerId`, `sequence` and, since a resync moves no sequence,
   * `snapshotAgeMs` [ms since it asked for the snapshot that it holds].
   */
  missedBy(auth: Readonly<Record<string, unknown>>): readonly ChangeWire[] | 'resync';
}

/** What a monotonic clock shows [ms]. */
export type Stopwatch = () => number;

/** Changes kept for screens that were away for a moment. */
const CHANGES_KEPT_COUNT = 500;
/** A screen says how old its snapshot is when it sets out to join; it arrives later, by its network and its queue. */
const JOINS_LATE_MS = 5000;

/** Makes a memory of nothing. */
export function makeFeedMemory(nowMs: Stopwatch = () => performance.now()): FeedMemory {
  const kept: ChangeWire[] = [];
  let held: FeedHead = { ledgerId: '', sequence: 0 };
  let resyncedAtMs = nowMs();
  return {
    begin({ ledgerId, sequence }) {
      // What another run of the program had told, of its troubles for one, need not be so any more.
      resyncedAtMs = nowMs();
      // A change may have been told while the head was being read.
      held = { ledgerId, sequence: Math.max(sequence, held.sequence) };
    },
    takeChange(change) {
      kept.push(change);
      if (kept.length > CHANGES_KEPT_COUNT) kept.shift();
      held = { ...held, sequence: change.sequence };
    },
    takeResync(sequence) {
      resyncedAtMs = nowMs();
      if (sequence === undefined) return;
      kept.length = 0;
      held = { ...held, sequence };
    },
    missedBy(auth) {
      const { snapshotAgeMs } = auth;
      const resyncAgeMs = nowMs() - resyncedAtMs - JOINS_LATE_MS;
      if (typeof snapshotAgeMs === 'number' && snapshotAgeMs > resyncAgeMs) return 'resync';
      return missedSince(kept, held, auth);
    },
  };
}

/** What a screen that holds a ledger at a sequence has missed; resync when that cannot be told from what is kept. */
export function missedSince(
  kept: readonly ChangeWire[],
  head: FeedHead,
  auth: Readonly<Record<string, unknown>>,
): readonly ChangeWire[] | 'resync' {
  const { ledgerId, sequence } = auth;
  if (ledgerId !== head.ledgerId || typeof sequence !== 'number') return 'resync';
  if (sequence === head.sequence) return [];
  const first = kept.findIndex((change) => change.afterSequence === sequence);
  return first === -1 ? 'resync' : kept.slice(first);
}
