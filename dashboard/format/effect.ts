// What a change would do to the time of the test, in one sentence, with everything that is to be minded then.
import type { BatchWire, EstimateWire } from '../../server/contract/index.ts';
import { formatClock } from './clock.ts';
import { epochAt, MS_PER_MIN } from './phase.ts';
import { formatNotes, type Naming, type Note } from './reason.ts';

export interface Effect {
  readonly sentence: string;
  /** Grave notes always, others only where the batch does not have them already. */
  readonly notes: readonly Note[];
}

export interface EffectInputs {
  readonly batch: BatchWire;
  /** The batch as it would be, with the previewed estimate. */
  readonly changed: BatchWire & { readonly estimate: EstimateWire };
  readonly nowAt: number;
}

/** The effect of a change on the test, against the batch as it is. */
export function formatEffect(inputs: EffectInputs, naming: Naming): Effect {
  const { batch, changed } = inputs;
  const held = new Set(batch.estimate?.notes);
  return {
    sentence: sentenceOf(inputs, naming),
    notes: formatNotes(changed, naming).filter(({ code, tone }) => tone === 'stop' || !held.has(code)),
  };
}

function sentenceOf({ batch, changed, nowAt }: EffectInputs, { words, place }: Naming): string {
  const { effect } = words;
  const thenAt = epochAt(changed.estimate.testFromAt);
  if (thenAt === null) return effect.noTime;
  const beforeAt = epochAt(batch.estimate?.testFromAt);
  const clock = formatClock(thenAt, place);
  if (beforeAt === null) return effect.test(clock);
  if (beforeAt <= nowAt && thenAt <= nowAt) return effect.testNow;
  // Counted between the minutes that are shown, so that the sentence adds up.
  const laterMin = Math.floor(thenAt / MS_PER_MIN) - Math.floor(beforeAt / MS_PER_MIN);
  return laterMin === 0
    ? effect.same(clock)
    : effect.changed({ clock, before: formatClock(beforeAt, place), laterMin });
}
