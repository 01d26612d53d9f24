// A simulated shop in closed loop: its sensors speak to the real middle, its people look at what that says and act.
import { makeSteppedClock } from '../../server/adapters/clock/steppedClock.ts';
import { makeMemoryStore } from '../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { catchUp, makeShop } from '../../server/application/openShop.ts';
import type { Doors } from '../../server/application/ports/doors.ts';
import type { Shop } from '../../server/application/shop.ts';
import {
  batchCommandBody,
  type BatchWire,
  type Instant,
  instantFromIso,
  type Reading,
  startBatchBody,
} from '../../server/contract/index.ts';
import type { Fact } from '../../server/domain/facts.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { overheard } from '../../server/replayDiary.ts';
import { makeScoreKeeper, type ReplayedBatch } from '../../server/replayScores.ts';
import type { Act } from '../../sensors-sim/people/crew.ts';
import { startPlay, stepAir, stepPlay } from '../../sensors-sim/play.ts';
import type { PersonPlan, Scenario } from '../../sensors-sim/scenarios/scenario.ts';
import { replayedShop } from '../support/replayedShop.ts';

export interface PlayedShop {
  readonly batches: readonly ReplayedBatch[];
  readonly facts: readonly Fact[];
  readonly refusals: readonly string[];
  readonly doors: Doors;
  readonly shop: Shop;
}

export interface PlayInputs {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly forDays: number;
  readonly isLearning?: boolean;
  /** What holds for everyone of the crew, instead of what the scenario says of each. */
  readonly peopleRules?: Partial<Omit<PersonPlan, 'initials'>>;
}

/** A Monday. */
const FROM_AT = instantFromIso('2026-01-12T00:00:00Z') as Instant;
const TIME_ZONE = 'UTC';
/** The first day is air alone. */
const QUIET_DAYS_COUNT = 1;

/** Plays some days of a shop; the same inputs give the same days. */
export async function playShop(inputs: PlayInputs): Promise<PlayedShop> {
  const { seed, forDays, peopleRules = {} } = inputs;
  const crew = inputs.scenario.crew.map((person) => ({ ...person, ...peopleRules }));
  const scenario = { ...inputs.scenario, crew };
  const stage = await openStage(inputs);
  let { play } = startPlay({
    scenario,
    seed,
    timeZone: TIME_ZONE,
    nowAt: FROM_AT,
    shown: [],
    newestReadingAt: FROM_AT,
  });
  const noneTold = { acts: [], truths: [] };
  while (play.dayIndex < forDays) {
    const view = { batches: stage.shown, pendingKeys: new Set<string>() };
    const next = play.dayIndex < QUIET_DAYS_COUNT ? { ...stepAir(play), ...noneTold } : stepPlay(play, view);
    play = next.play;
    const { readings, acts, truths } = next;
    if (readings.length + acts.length > 0) await stage.clock.moveTo(play.shop.at);
    for (const reading of readings) await stage.doors.recordReading([readingFrom(reading)]);
    for (const act of acts) await stage.act(act);
    for (const { batchKey, readyAt } of truths) stage.keeper.takeTruth({ label: batchKey, readyAt });
  }
  stage.clock.stop();
  const { facts, refusals, doors, shop } = stage;
  return { batches: stage.keeper.list(), facts, refusals, doors, shop };
}

type Said = ReturnType<typeof stepAir>['readings'][number];

function readingFrom(said: Said): Reading {
  return { index: 0, panelTemperatureC: undefined, ...said };
}

async function openStage({ isLearning = true }: PlayInputs) {
  const { facts: settings, cards, log } = replayedShop();
  const clock = makeSteppedClock(FROM_AT);
  const { ledger, air } = makeMemoryStore();
  const facts: Fact[] = [];
  const refusals: string[] = [];
  const shown = new Map<string, BatchWire>();
  const keeper = makeScoreKeeper(cards);
  let nextKey = '';
  const shop = makeShop({
    facts: { ...settings, isLearning },
    cards,
    log,
    air,
    clock,
    ledger: overheard(ledger, (fact) => {
      facts.push(fact);
      keeper.takeFact(fact, fact.batchId);
    }),
    live: {
      publishChange({ batches }) {
        for (const batch of batches) show(batch);
      },
      publishAir: () => undefined,
      publishResync: () => undefined,
    },
    // A mix keeps the name that its people have for it, so that its true time finds it.
    makeId: () => nextKey,
  });
  function show(batch: BatchWire): void {
    if (batch.stage === 'sanded' || batch.stage === 'scrapped') shown.delete(batch.id);
    else shown.set(batch.id, batch);
  }
  await catchUp(shop);
  const doors = makeDoors(shop, { version: '', refused: () => [] });
  let actCount = 0;
  async function act(one: Act): Promise<void> {
    actCount += 1;
    const key = `act-${actCount}`;
    nextKey = one.key;
    const answer =
      one.kind === 'start'
        ? await doors.startBatch({ key, body: startBatchBody.parse(one.body) })
        : await doors.handleCommand(one.key, { key, body: batchCommandBody.parse(one.body) });
    if (answer.kind === 'refused') refusals.push(`${one.kind}: ${answer.refusal.code}`);
  }
  return { clock, doors, shop, shown, keeper, facts, refusals, act };
}
