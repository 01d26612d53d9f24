// A film that gummed is not done, whatever the model had thought: the window begins behind the last "gums".
import type { Instant } from '../contract/index.ts';
import type { BatchState } from './batch.ts';
import type { Estimate } from './facts.ts';
import { instantAfter, minutesBetween } from './minutes.ts';

type WindowTimes = Pick<Estimate, 'p10At' | 'p50At' | 'p90At' | 'testFromAt'>;

/**
 * How long to leave a film alone after it gummed: a share of its age, a few minutes at least (chosen). A film that
 * gums long after its window is one that the model knows too little of; then these floors are all there is to say.
 */
const REST_FRACTION = 0.15;
const REST_LEAST_MIN = 3;
/** Where in that rest each time may lie at the earliest; in order, so that the window stays one. */
const FLOORS = { p10At: 0.25, p50At: 0.6, testFromAt: 1, p90At: 1.5 } as const;

/** The same times, none earlier than the last "gums" allows; what is never stays never. */
export function afterGums<T extends WindowTimes>(times: T, state: BatchState): T {
  const gummed = state.checks.filter((check) => check.outcome === 'gums').map((check) => check.at);
  if (gummed.length === 0) return times;
  const lastAt = Math.max(...gummed) as Instant;
  const restMin = Math.max(REST_LEAST_MIN, REST_FRACTION * minutesBetween(state.mixedAt, lastAt));
  const floored = (key: keyof WindowTimes): Instant | null => {
    const at = times[key];
    return at === null ? null : (Math.max(at, instantAfter(lastAt, FLOORS[key] * restMin)) as Instant);
  };
  return {
    ...times,
    p10At: floored('p10At'),
    p50At: floored('p50At'),
    p90At: floored('p90At'),
    testFromAt: floored('testFromAt'),
  };
}
