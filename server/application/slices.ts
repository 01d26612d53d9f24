// Long reading work in slices: after each few milliseconds whatever waits goes first.
import type { Clock } from './ports/clock.ts';

/** Far below what a person or a live message notices [ms]. */
const SLICE_MS = 12;

/** Makes a pause to be awaited between parts of a long work; it waits only when the slice is used up. */
export function makeSlices(clock: Pick<Clock, 'elapsedMs' | 'breathe'>): () => Promise<void> {
  let begunMs = clock.elapsedMs();
  return async () => {
    if (clock.elapsedMs() - begunMs < SLICE_MS) return;
    await clock.breathe();
    begunMs = clock.elapsedMs();
  };
}
