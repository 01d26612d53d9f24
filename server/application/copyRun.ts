// The copies of a running shop: where they are kept, by what plan, and what is going on with them.
import type { CopyTrouble, Instant } from '../contract/index.ts';
import type { CopyPlan } from '../domain/copyPlan.ts';
import type { CopyShelf, KeptCopy } from './ports/storeCopier.ts';

export interface CopyRun {
  readonly shelf: CopyShelf;
  readonly plan: CopyPlan;
  isMaking: boolean;
  failure: { readonly at: Instant; readonly code: CopyTrouble; readonly detail: string } | null;
  /** The last ask by hand and what came of it: the same key once more is not another copy. */
  lastAsk: { readonly key: string; readonly copy: KeptCopy } | null;
}

/** Makes the run of a shelf; nothing is made before somebody asks or the schedule is kept. */
export function makeCopyRun(shelf: CopyShelf, plan: CopyPlan): CopyRun {
  return { shelf, plan, isMaking: false, failure: null, lastAsk: null };
}
