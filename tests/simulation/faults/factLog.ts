// All facts that a disk has taken, looked at as they come; after a crash, those that are left of them.
import type { LedgerEntry } from '../../../server/application/ports/ledger.ts';
import type { Fact } from '../../../server/domain/facts.ts';
import { canonicalJson } from '../../support/canonicalJson.ts';
import { makeFactCheck } from './checkFacts.ts';
import type { World } from './world.ts';

export interface FactLog {
  /** An entry was committed. */
  take(entry: LedgerEntry): void;
  /** Something was acknowledged: all that was committed by now is there for good. */
  acknowledge(): void;
  /** What the ledger holds must be what it took. */
  compare(kept: readonly Fact[]): void;
  /** After a crash what nobody was told of may be gone. */
  giveUp(kept: readonly Fact[]): void;
  list(): readonly Fact[];
}

/** Makes an empty log. */
export function makeFactLog(world: World): FactLog {
  let facts: Fact[] = [];
  let check = makeFactCheck();
  let safeCount = 0;
  function compare(kept: readonly Fact[]): void {
    if (canonicalJson(kept) === canonicalJson(facts)) return;
    const index = kept.findIndex((fact, place) => canonicalJson(fact) !== canonicalJson(facts[place]));
    const from = index === -1 ? kept.length : index;
    world.violate(
      `the ledger holds ${kept.length} facts and not the ${facts.length} it took, from ${from} on`,
    );
  }
  return {
    take({ facts: taken }) {
      for (const fact of taken) {
        facts.push(fact);
        world.count(`facts ${fact.type}`);
        world.note(JSON.stringify(fact));
        for (const found of check(fact)) world.violate(found);
      }
    },
    acknowledge() {
      safeCount = facts.length;
    },
    compare,
    giveUp(kept) {
      if (kept.length < safeCount)
        world.violate(`after a crash ${kept.length} facts are left of ${safeCount} that were acknowledged`);
      if (kept.length < facts.length)
        world.note(`${facts.length - kept.length} facts are gone that nobody was told of`);
      facts = facts.slice(0, kept.length);
      compare(kept);
      check = makeFactCheck();
      for (const fact of facts) check(fact);
    },
    list: () => facts,
  };
}
