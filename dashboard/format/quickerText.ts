// Who was quicker: what somebody else did to a batch since the screen was read, for beside the button that was refused.
import type { BatchWire } from '../../server/contract/index.ts';
import { formatClock, type Place } from './clock.ts';
import type { Words } from './words.en.ts';

export interface Refused {
  /** The batch as it is now. */
  readonly batch: BatchWire;
  /** The newest act that whoever tapped had seen. */
  readonly seenSequence: number;
  /** The version that the tap was meant for; null where it did not say. */
  readonly seenVersion: number | null;
  /** The refused act, as its button names it. */
  readonly yours: string;
}

/** One sentence; null where nobody else was at it, so that the refusal stands for itself. */
export function formatQuicker(
  { batch, seenSequence, seenVersion, yours }: Refused,
  { words, place }: { readonly words: Words; readonly place: Place },
): string | null {
  const { lastAct } = batch;
  const { quicker } = words;
  if (lastAct !== null && lastAct.factSequence > seenSequence) {
    return quicker.was({
      who: lastAct.by ?? quicker.somebody,
      act: lastActName(batch, words),
      clock: formatClock(Date.parse(lastAct.recordedAt), place),
      yours,
    });
  }
  return seenVersion !== null && batch.version > seenVersion ? quicker.tookBack(yours) : null;
}

/** The last act as people call it: a check by what it showed. */
export function lastActName({ lastAct, checks }: BatchWire, { act, factName }: Words): string {
  const type = lastAct?.type ?? '';
  const outcome = checks.at(-1)?.outcome;
  if (type === 'CheckRecorded' && outcome !== undefined) return act[outcome];
  return Object.hasOwn(factName, type) ? factName[type as keyof typeof factName] : type;
}
