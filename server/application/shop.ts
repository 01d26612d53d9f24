// The shop that use cases work on: what it is made of, and the ports through which it reads and writes.
import type { Instant, PartTrouble, TroublePart } from '../contract/index.ts';
import type { Card } from '../domain/card.ts';
import type { AirTable } from './ports/airTable.ts';
import type { CopyRun } from './copyRun.ts';
import type { StoreCopier } from './ports/storeCopier.ts';
import type { Clock } from './ports/clock.ts';
import type { Counters } from './ports/counters.ts';
import type { Ledger } from './ports/ledger.ts';
import type { LiveFeed, Log } from './ports/live.ts';
import type { ShopFacts } from './ports/shopFacts.ts';
import type { Turns } from './turns.ts';

/** Ports and settings; passed first to every use case. Holds no truth: that is in the ledger and the air table. */
export interface Shop {
  /** The settings in force; another value each time somebody changes them by hand. */
  facts: ShopFacts;
  /** The products in force, likewise. */
  cards: ReadonlyMap<string, Card>;
  readonly ledger: Ledger;
  readonly air: AirTable;
  /** Makes copies of the store; a store in memory has none. */
  readonly copier?: StoreCopier;
  /** Keeps copies of the store beside it; a store in memory has none. */
  readonly copies?: CopyRun;
  readonly clock: Clock;
  readonly live: LiveFeed;
  readonly log: Log;
  readonly counters: Counters;
  /** A new identifier, never given before. */
  readonly makeId: () => string;
  /** One writer at a time. */
  readonly turns: Turns;
  readonly wake: WakePlan;
  outbox: OutboxFigures;
  /** What went wrong last with each part; empty when all is well. */
  readonly troubles: Map<TroublePart, Trouble>;
}

/** What is wrong with a part: a code for screens, a sentence for health. */
export interface Trouble {
  readonly code: PartTrouble;
  readonly sentence: string;
}

/** What waits to be told outside the pages, as it was at the last look. */
export interface OutboxFigures {
  readonly owedCount: number;
  /** Since when the oldest waits. */
  readonly oldestAt: Instant | null;
  readonly givenUpCount: number;
}

/** What is due when: passes over bays and looks at all batches, one of each at a time. */
export interface WakePlan {
  /** When all batches were last looked at. */
  lookedAt: Instant;
  isLooking: boolean;
  /** One pass over a bay at a time, in the order in which they fell due. */
  readonly passes: Turns;
  /** Until when a bay rests [ms of elapsed time]. */
  readonly restsUntilMs: Map<string, number>;
  /** Bays with a pass that waits or runs. */
  readonly busyBays: Set<string>;
  /** Bays with air that no pass has seen. */
  readonly newsBays: Set<string>;
}
