// A whole estimate as the program makes it, and a bay with forty open batches that gets colder air.
import { makeWallClock } from '../../server/adapters/clock/pacedClock.ts';
import { estimateCompletion } from '../../server/domain/estimateCompletion.ts';
import type { BatchState } from '../../server/domain/batch.ts';
import { baysOf, BODY_FILLER, LAMP, minute, series, stateOf } from '../support/domainFixtures.ts';
import { openTestShop, sayAir, start } from '../support/testShop.ts';
import { type Contender, ROUNDS_COUNT, type Spread, spreadOf } from './measure.ts';

/** Estimates of one batch: two films, everything uncertain, reasons; in plain air, after a "gums", and under a lamp. */
export function estimateContenders(): Record<'plain' | 'gummed' | 'lamp', Contender> {
  const gums = { at: minute(22), outcome: 'gums', firstTry: null, by: null } as const;
  const spell = {
    lampId: LAMP.id,
    fromAt: minute(8),
    untilAt: minute(18),
    distanceCm: 80,
    fluxWPerM2: 600,
  };
  return {
    plain: contender({}),
    gummed: contender({ checks: [gums] }),
    lamp: contender({ lamps: [spell] }),
  };
}

function contender(state: Partial<BatchState>): Contender {
  const readings = Array.from({ length: 121 }, (_, index) => [index - 100, 13 + index / 60] as const);
  const bays = baysOf({ 'bay-1': { air: series(...readings), humidity: series([-100, 55], [20, 58]) } });
  const batch = stateOf(state);
  return {
    count: 1,
    turn: () =>
      void estimateCompletion(batch, {
        card: BODY_FILLER,
        bays,
        nowAt: minute(20),
        testProbability: 0.8,
        learned: null,
      }),
  };
}

export interface FortyBatches {
  /** From the reading until the last batch's change was told [ms of wall]. */
  readonly passMs: Spread;
  /** How long a timer that asks each millisecond was held up at most during a pass [ms of wall]. */
  readonly heldUpMs: Spread;
}

const BATCHES_COUNT = 40;
const PASS_MAX_MS = 10_000;
const REST_MS = 1500;

/** Passes over a bay with forty open batches. */
export async function measureFortyBatches(): Promise<FortyBatches> {
  const clock = makeWallClock();
  let told = (_ids: readonly string[]): void => undefined;
  const shop = await openTestShop({
    clock,
    live: {
      publishAir: () => undefined,
      publishChange: ({ batches }) => told(batches.map((batch) => batch.id)),
      publishResync: () => undefined,
    },
  });
  const say = async (airC: number): ReturnType<typeof sayAir> =>
    sayAir(shop, airC, { at: clock.nowAt(), relativeHumidityPct: 50 });
  await say(20);
  for (let index = 0; index < BATCHES_COUNT; index++) await start(shop, { thicknessMm: 0.5 + index / 20 });
  const passMs: number[] = [];
  const heldUpMs: number[] = [];
  for (let round = 0; round < ROUNDS_COUNT; round++) {
    await new Promise((resolve) => setTimeout(resolve, REST_MS));
    const watch = watchTurns();
    const begunMs = performance.now();
    const all = waitForAll((onTold) => (told = onTold));
    await say(round % 2 === 0 ? 14 : 20);
    await all;
    passMs.push(performance.now() - begunMs);
    heldUpMs.push(watch.stop());
  }
  await new Promise((resolve) => setTimeout(resolve, REST_MS));
  clock.stop();
  return { passMs: spreadOf(passMs), heldUpMs: spreadOf(heldUpMs) };
}

function waitForAll(listen: (onTold: (ids: readonly string[]) => void) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error('not every batch was told')), PASS_MAX_MS);
    const seen = new Set<string>();
    listen((ids) => {
      for (const id of ids) seen.add(id);
      if (seen.size < BATCHES_COUNT) return;
      clearTimeout(timer);
      resolve();
    });
  });
}

/** The longest time in which nothing else had its turn [ms]. */
function watchTurns(): { stop(): number } {
  let lastMs = performance.now();
  let longestMs = 0;
  const timer = setInterval(() => {
    const nowMs = performance.now();
    longestMs = Math.max(longestMs, nowMs - lastMs);
    lastMs = nowMs;
  }, 1);
  return {
    stop() {
      clearInterval(timer);
      return Math.max(longestMs, performance.now() - lastMs);
    },
  };
}
