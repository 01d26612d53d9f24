// What all parts of a simulated day share: time, chance by name, the trace that a seed must repeat, and what was found wrong.
import { createHash } from 'node:crypto';
import { drawBetween, drawChance, drawFrom, makeRandom, type Random } from '../../../sensors-sim/random.ts';
import type { Instant } from '../../../server/contract/index.ts';
import { type FaultPlan, withoutFaults } from './faultPlan.ts';
import { makeTimeline, type Timeline } from './timeline.ts';

export interface World {
  readonly time: Timeline;
  /** The faults that may strike now; none once they have stopped. */
  plan: FaultPlan;
  /** Chance of its own for each purpose, so that one fault more does not shuffle all others. */
  chance(name: string): Chance;
  /** Writes a line into the trace. */
  note(line: string): void;
  /** Something that must never be. */
  violate(what: string): void;
  readonly violations: string[];
  /** The last lines, for people. */
  readonly recent: string[];
  readonly counts: Map<string, number>;
  count(what: string): void;
  hash(): string;
  /** Calls back after simulated time. */
  after(delayMs: number, run: () => void): void;
  /** Resolves after simulated time. */
  wait(delayMs: number): Promise<void>;
  /** Faults stop. */
  calm(): void;
  /** A number that was not given before. */
  next(): number;
}

export interface Chance {
  is(share: number): boolean;
  between(low: number, high: number): number;
  whole(low: number, high: number): number;
  from<T>(list: readonly T[]): T;
  /** A waiting time [ms] of something that happens so often an hour; null when it never does. */
  waitMs(perHour: number): number | null;
}

const LINES_KEPT_COUNT = 80;
const VIOLATIONS_MAX_COUNT = 20;
const HOUR_MS = 3_600_000;

/** Makes the world of a seed. */
export function makeWorld(plan: FaultPlan, startAt: Instant): World {
  const time = makeTimeline(startAt, plan.storeKind === 'sqlite' ? 3 : 1);
  const hash = createHash('sha256');
  const chances = new Map<string, Chance>();
  let numberCount = 0;
  const world: World = {
    time,
    plan,
    violations: [],
    recent: [],
    counts: new Map(),
    chance(name) {
      const known = chances.get(name) ?? makeChance(makeRandom(plan.seed, name));
      chances.set(name, known);
      return known;
    },
    note(line) {
      const whole = `${time.elapsedMs()} ${line}`;
      hash.update(`${whole}\n`);
      world.recent.push(whole);
      if (world.recent.length > LINES_KEPT_COUNT) world.recent.shift();
    },
    violate(what) {
      world.note(`VIOLATION ${what}`);
      if (world.violations.length < VIOLATIONS_MAX_COUNT) world.violations.push(what);
    },
    count(what) {
      world.counts.set(what, (world.counts.get(what) ?? 0) + 1);
    },
    hash: () => hash.copy().digest('hex'),
    after: (delayMs, run) => void time.setTimer(delayMs, run),
    wait: (delayMs) =>
      new Promise((resolve) => {
        time.setTimer(delayMs, resolve);
      }),
    calm() {
      world.note('faults stop');
      world.plan = withoutFaults(plan);
    },
    next: () => (numberCount += 1),
  };
  return world;
}

function makeChance(random: Random): Chance {
  return {
    is: (share) => drawChance(random, share),
    between: (low, high) => drawBetween(random, [low, high]),
    whole: (low, high) => Math.floor(drawBetween(random, [low, high + 1])),
    from: (list) => drawFrom(random, list),
    waitMs: (perHour) => {
      const drawn = -Math.log(1 - random.nextFraction());
      return perHour <= 0 ? null : (drawn / perHour) * HOUR_MS;
    },
  };
}
