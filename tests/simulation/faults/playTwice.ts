// A scenario's day as a diary, played twice from the same lines: undisturbed, and with faults from which the program recovers at
// the very moment, so that nothing but the faults differs. What is compared, and what is left out and why, stands at `differences`.
import { type DiaryLabels, playLine } from '../../../server/adapters/diary/playLine.ts';
import { parseDiary, type DiaryLine } from '../../../server/adapters/diary/parseDiary.ts';
import { makeSteppedClock } from '../../../server/adapters/clock/steppedClock.ts';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { catchUp, makeShop } from '../../../server/application/openShop.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import { recallSettings } from '../../../server/application/settingsView.ts';
import type { Shop } from '../../../server/application/shop.ts';
import { type Instant, instantFromIso, instantFromMs } from '../../../server/contract/index.ts';
import type { BatchState } from '../../../server/domain/batch.ts';
import type { Fact } from '../../../server/domain/facts.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { playDiary } from '../../../sensors-sim/diary/playDiary.ts';
import { drawChance, makeRandom } from '../../../sensors-sim/random.ts';
import type { Scenario } from '../../../sensors-sim/scenarios/scenario.ts';
import { canonicalJson } from '../../support/canonicalJson.ts';
import { interceptPort, type PortCall } from '../../support/interceptPort.ts';
import { replayedShop } from '../../support/replayedShop.ts';
import { readAllAir, readAllFacts } from './checkStore.ts';

export interface DayPlan {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly fromMin: number;
  readonly untilMin: number;
}

export interface PlayedDay {
  readonly facts: readonly Fact[];
  readonly states: readonly BatchState[];
  /** Every row of the air table, as text. */
  readonly air: readonly string[];
  readonly failureCount: number;
  readonly crashCount: number;
}

/** A Monday, in a zone whose days are the clock's. */
const DAY_AT = instantFromIso('2026-01-12T00:00:00Z') as Instant;
const MIN_MS = 60_000;
const FAIL_SHARE = 0.02;
const CRASH_SHARE = 0.003;
const REPEAT_SHARE = 0.03;
const LOST_ANSWER_SHARE = 0.1;
/** Nothing fails so often in a row. */
const TRIES_MAX = 200;

/** The lines of a day that fall between two of its minutes. */
export function linesOf({ scenario, seed, fromMin, untilMin }: DayPlan): DiaryLine[] {
  const lines: DiaryLine[] = [];
  for (const said of playDiary({
    scenario,
    seed,
    timeZone: 'UTC',
    fromAt: DAY_AT,
    forDays: 1,
    quietDays: 0,
  })) {
    const parsed = parseDiary(JSON.stringify(said));
    if (parsed.kind === 'rejected') throw new Error(`${parsed.rejection.path} ${parsed.rejection.reason}`);
    const { line } = parsed;
    if (line.kind !== 'truth' && line.at >= DAY_AT + fromMin * MIN_MS && line.at < DAY_AT + untilMin * MIN_MS)
      lines.push(line);
  }
  return lines;
}

/** Plays the lines; with a seed, with faults. Open batches go on for a while after the last line. */
export async function playLines(
  lines: readonly DiaryLine[],
  { faultSeed, sensorIds }: { faultSeed: number | null; sensorIds: readonly string[] },
): Promise<PlayedDay> {
  const stage = openStage(lines[0]?.at ?? DAY_AT, faultSeed);
  await stage.boot();
  for (const [lineIndex, line] of lines.entries()) {
    await stage.clock.moveTo(line.at);
    await stage.play({ line, lineIndex });
  }
  await stage.clock.moveTo(instantFromMs(stage.clock.nowAt() + AFTERWARDS_MIN * MIN_MS));
  stage.clock.stop();
  const { store, counts } = stage;
  const views = await store.ledger.readViews('batch', { openOnly: false });
  return {
    facts: await readAllFacts(store),
    states: views.map(({ body }) => body as BatchState),
    air: (await readAllAir(store, sensorIds)).map((row) => canonicalJson(row)),
    ...counts,
  };
}

const AFTERWARDS_MIN = 30;

type PlacedLine = Parameters<typeof playLine>[1];

function openStage(startAt: Instant, faultSeed: number | null) {
  const clock = makeSteppedClock(startAt);
  const store = makeMemoryStore();
  const random = makeRandom(faultSeed ?? 0, 'recoverable');
  const is = (share: number): boolean => faultSeed !== null && drawChance(random, share);
  const counts = { failureCount: 0, crashCount: 0 };
  const labels = makeFixedLabels();
  let life = { isAlive: true, onCrash: (): void => undefined };
  let doors: ReturnType<typeof makeDoors> | null = null;

  function crash(): void {
    counts.crashCount += 1;
    life.isAlive = false;
    doors = null;
    clock.stop();
    life.onCrash();
    // Outside any line nobody waits for it: something starts it again at once.
    void boot();
  }

  async function call<T>(own: typeof life, one: PortCall<T>): Promise<T> {
    if (!own.isAlive) return never();
    if (is(FAIL_SHARE)) {
      counts.failureCount += 1;
      throw new PortFailure('ledger', one.operation, { isRetriable: true, cause: new Error('simulated') });
    }
    const [isBefore, isAfter] = [is(CRASH_SHARE), is(CRASH_SHARE)];
    if (isBefore) {
      crash();
      return never();
    }
    const result = await one.work();
    if (isAfter && own.isAlive) crash();
    return own.isAlive ? result : never();
  }

  async function boot(): Promise<void> {
    const own = { isAlive: true, onCrash: (): void => undefined };
    life = own;
    try {
      const shop: Shop = makeShop({
        ...replayedShop(),
        ledger: interceptPort(store.ledger, (one) => call(own, one)),
        air: interceptPort(store.air, (one) => call(own, one)),
        clock,
        live: { publishChange: () => undefined, publishAir: () => undefined, publishResync: () => undefined },
        makeId: () => labels.makeId(),
      });
      await recallSettings(shop);
      await catchUp(shop);
      if (own.isAlive) doors = makeDoors(shop, { version: '', refused: () => [] });
    } catch (cause) {
      if (!(cause instanceof PortFailure)) throw cause;
      if (own.isAlive) crash();
    }
  }

  /** As sensors and screens do it: again until it is answered, and now and then once more. */
  async function play(placed: PlacedLine): Promise<void> {
    for (let tryCount = 0; tryCount < TRIES_MAX; tryCount += 1) {
      if (await tryLine(placed)) {
        if (!is(LOST_ANSWER_SHARE) && !is(REPEAT_SHARE)) return;
      } else await new Promise((resolve) => setImmediate(resolve));
    }
    throw new Error(`line ${placed.lineIndex} is never answered`);
  }

  async function tryLine(placed: PlacedLine): Promise<boolean> {
    if (doors === null) return false;
    const own = life;
    const crashed = new Promise<boolean>((resolve) => {
      own.onCrash = () => resolve(false);
    });
    const played = playLine({ doors, labels }, placed).then(
      () => true,
      (cause: unknown) => {
        if (!(cause instanceof PortFailure)) throw cause;
        return false;
      },
    );
    return Promise.race([played, crashed]);
  }
  return { clock, store, counts, boot, play };
}

/** A batch is named after its label, however often its start is tried. */
function makeFixedLabels(): DiaryLabels {
  let nextLabel = '';
  return {
    begin(label) {
      nextLabel = label;
    },
    makeId: () => `batch-of-${nextLabel}`,
    idOf: (label) => `batch-of-${label}`,
    labelOf: (batchId) => batchId,
  };
}

function never<T>(): Promise<T> {
  return new Promise(() => undefined);
}
