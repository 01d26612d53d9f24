// Views from nothing: folds every batch's facts and compares with what is stored.
import type { BatchId, Fact, Sequence } from '../domain/facts.ts';
import { foldBatch } from '../domain/evolveBatch.ts';
import { cardViewFrom, viewsOf } from './appendFacts.ts';
import type { Ledger, ViewChange } from './ports/ledger.ts';

export interface RebuildReport {
  readonly factCount: number;
  readonly viewCount: number;
  /** Kind and id of views that stood otherwise than their facts say. */
  readonly differences: readonly string[];
}

const PAGE_COUNT = 1000;

/** Rebuilds all views from facts, puts them in place of the stored ones, and says which of these differed. */
export async function rebuildViews(ledger: Ledger): Promise<RebuildReport> {
  const { factsOfBatch, cards, factCount } = await readFactsByBatch(ledger);
  const rebuilt: ViewChange[] = [...cards.values()];
  for (const facts of factsOfBatch.values()) {
    const state = foldBatch(facts);
    if (state !== null) rebuilt.push(...viewsOf(state));
  }
  const stored = await readStored(ledger);
  const differences = differencesBetween(
    stored,
    new Map(rebuilt.map((view) => [nameOf(view), textOf(view)])),
  );
  if (differences.length > 0) await ledger.replaceViews(rebuilt);
  return { factCount, viewCount: rebuilt.length, differences };
}

async function readFactsByBatch(ledger: Ledger): Promise<{
  factsOfBatch: Map<BatchId, Fact[]>;
  cards: Map<string, ViewChange>;
  factCount: number;
}> {
  const factsOfBatch = new Map<BatchId, Fact[]>();
  const cards = new Map<string, ViewChange>();
  let afterSequence = 0 as Sequence;
  let factCount = 0;
  const head = await ledger.readHead();
  while (afterSequence < head) {
    const facts = await ledger.readFacts({ afterSequence, limit: PAGE_COUNT });
    for (const fact of facts) {
      factCount += 1;
      afterSequence = fact.sequence;
      if (fact.type === 'CardCalibrated') cards.set(fact.body.cardId, cardViewFrom(fact.body));
      if (fact.batchId === null) continue;
      factsOfBatch.set(fact.batchId, [...(factsOfBatch.get(fact.batchId) ?? []), fact]);
    }
  }
  return { factsOfBatch, cards, factCount };
}

async function readStored(ledger: Ledger): Promise<Map<string, string>> {
  const views: ViewChange[] = [];
  for (const kind of ['batch', 'alert', 'card'] as const) {
    views.push(...(await ledger.readViews(kind, { openOnly: false })));
  }
  return new Map(views.map((view) => [nameOf(view), textOf(view)]));
}

function nameOf(view: ViewChange): string {
  return `${view.kind} ${view.id}`;
}

/** Views are compared as JSON with keys in order, since a store gives keys back as it likes. */
function textOf(view: ViewChange): string {
  return JSON.stringify([view.isOpen, sortKeys(view.body)]);
}

function sortKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => sortKeys(one));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sortKeys(inner)]),
  );
}

function differencesBetween(
  stored: ReadonlyMap<string, string>,
  rebuilt: ReadonlyMap<string, string>,
): string[] {
  const names = new Set([...stored.keys(), ...rebuilt.keys()]);
  return [...names].filter((name) => stored.get(name) !== rebuilt.get(name)).toSorted();
}
