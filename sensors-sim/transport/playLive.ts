// Plays against a running server: keeps to its clock, sends readings and acts, looks at its screens, waits when it is away.
import type { BatchWire } from '../../server/contract/index.ts';
import { STEP_S } from '../air/stepShop.ts';
import { laterAt } from '../localDay.ts';
import type { SimulatorOptions } from '../parseArguments.ts';
import { type Act, type Crew, type ServerView, withoutBatch } from '../people/crew.ts';
import { keyOfOwn } from '../people/ownBatches.ts';
import { type Play, startPlay, stepPlay } from '../play.ts';
import { makeServerClock, type ServerClock } from './clock.ts';
import { type HttpPeople, makeHttpPeople, ServerAway, type Shown } from './httpPeople.ts';
import { makeMqttSensors, type MqttSensors } from './mqttSensors.ts';
import { elapsedMs, pause } from './pause.ts';
import { makeReport } from './report.ts';

/** One server's shop as it is being played. */
interface Stage {
  readonly options: SimulatorOptions;
  readonly people: HttpPeople;
  readonly sensors: MqttSensors;
  readonly report: (line: string) => void;
  readonly ledgerId: string;
  clock: ServerClock;
  play: Play;
  /** Acts not yet answered, oldest first. */
  acts: readonly Act[];
  /** Own batches by the server's identity. */
  readonly keyById: Map<string, string>;
  batches: ReadonlyMap<string, BatchWire>;
  /** Refusals that were reported already; each kind is said once. */
  readonly refusals: Set<string>;
  lookedMs: number;
}

/** Plays until the process ends. */
export async function playLive(options: SimulatorOptions): Promise<void> {
  const report = makeReport();
  const people = makeHttpPeople(options.httpUrl);
  const sensors = makeMqttSensors(options, options.scenario.sensors, report);
  let stage: Stage | null = null;
  for (let backOffMs = BACK_OFF_MIN_MS; ; backOffMs = Math.min(backOffMs * 2, BACK_OFF_MAX_MS)) {
    try {
      const shown = await people.readSnapshot();
      stage =
        stage !== null && isSameTime(stage, shown)
          ? stage
          : await open({ options, people, sensors, report }, shown);
      for (;;) {
        await playOn(stage);
        backOffMs = BACK_OFF_MIN_MS;
        await pause(TICK_MS);
      }
    } catch (error) {
      if (!(error instanceof ServerAway)) throw error;
      report(`waiting for the server: ${error.message}`);
    }
    await pause(backOffMs);
  }
}

/** Whether a play can go on after the server was away: the same ledger, and a time soon after the play's. */
function isSameTime(stage: Stage, shown: Shown): boolean {
  const aheadMin = (shown.nowAt - stage.play.shop.at) / 60_000;
  const isSame = stage.ledgerId === shown.ledgerId && aheadMin > -1 && aheadMin < CATCH_UP_MAX_MIN;
  if (isSame) stage.clock = makeServerClock({ setAt: shown.nowAt, rate: shown.rate });
  return isSame;
}

async function open(
  { options, people, sensors, report }: Pick<Stage, 'options' | 'people' | 'sensors' | 'report'>,
  shown: Shown,
): Promise<Stage> {
  const clock = makeServerClock({ setAt: shown.nowAt, rate: shown.rate });
  const { scenario, seed, speedRate } = options;
  const { timeZone, nowAt, newestReadingAt } = shown;
  if (speedRate !== null && speedRate !== shown.rate) {
    report(`the server's own clock decides: it runs at ${shown.rate} ×, not ${speedRate} ×`);
  }
  report(`${scenario.shopName} plays ${scenario.name} at ${shown.rate} ×, seed ${seed}`);
  const started = startPlay({ scenario, seed, timeZone, nowAt, shown: shown.batches, newestReadingAt });
  sensors.publish(started.readings);
  await sensors.drain(DRAIN_MAX_MS);
  const own = shown.batches.flatMap((batch) => {
    const key = keyOfOwn(batch);
    return key === null ? [] : [[batch.id, key] as const];
  });
  return {
    options,
    people,
    sensors,
    report,
    ledgerId: shown.ledgerId,
    clock,
    play: started.play,
    acts: started.acts,
    keyById: new Map(own),
    batches: new Map(),
    refusals: new Set(),
    lookedMs: -Infinity,
  };
}

/** One tick: look at the screens when it is time, catch up with the clock, do what was decided. */
async function playOn(stage: Stage): Promise<void> {
  if (stage.clock.ageMs() > RESYNC_MS) await resync(stage);
  await act(stage);
  if (elapsedMs() - stage.lookedMs > LOOK_MS) await look(stage);
  const nowAt = stage.clock.nowAt();
  while (laterAt(stage.play.shop.at, STEP_S / 60) <= nowAt) {
    const pendingKeys = new Set(stage.acts.map(({ key }) => key));
    const view: ServerView = { batches: stage.batches, pendingKeys };
    const { play, readings, acts } = stepPlay(stage.play, view);
    stage.play = play;
    stage.acts = [...stage.acts, ...acts];
    stage.sensors.publish(readings);
  }
  await act(stage);
}

async function resync(stage: Stage): Promise<void> {
  const shown = await stage.people.readSnapshot();
  if (!isSameTime(stage, shown)) throw new ServerAway('its time or its ledger has changed');
}

async function look(stage: Stage): Promise<void> {
  const batches = await stage.people.readOpenBatches();
  stage.lookedMs = elapsedMs();
  stage.batches = new Map(
    batches.flatMap((batch) => {
      const key = stage.keyById.get(batch.id);
      return key === undefined ? [] : [[key, batch] as const];
    }),
  );
}

/** Does what was decided, in order; an act stays in the list until the server has answered it. */
async function act(stage: Stage): Promise<void> {
  if (stage.acts.length === 0) return;
  for (let [next] = stage.acts; next !== undefined; [next] = stage.acts) {
    await sendOne(stage, next);
    stage.acts = stage.acts.slice(1);
  }
  await look(stage);
}

async function sendOne(stage: Stage, next: Act): Promise<void> {
  const batchId = [...stage.keyById].find(([, key]) => key === next.key)?.[0] ?? null;
  if (next.kind === 'command' && batchId === null) return;
  const answer = await stage.people.send(next, { ledgerId: stage.ledgerId, batchId });
  if (answer.kind === 'done') {
    if (next.kind === 'start' && answer.batchId !== null) stage.keyById.set(answer.batchId, next.key);
    return;
  }
  const what = next.kind === 'start' ? 'a mix' : next.body.type;
  const line = `the server refuses ${what}: ${answer.status} ${answer.code}`;
  if (!stage.refusals.has(line)) stage.report(line);
  stage.refusals.add(line);
  if (next.kind === 'start') stage.play = { ...stage.play, crew: forget(stage.play.crew, next.key) };
}

/** A mix that the server did not take never happened; its car is left alone for the day. */
function forget(crew: Crew, key: string): Crew {
  const batch = crew.batches.find((one) => one.key === key);
  if (batch === undefined) return crew;
  return { ...withoutBatch(crew, batch, { isClosed: true }), silent: crew.silent };
}

const TICK_MS = 150;
const LOOK_MS = 1500;
const RESYNC_MS = 60_000;
const DRAIN_MAX_MS = 20_000;
const CATCH_UP_MAX_MIN = 90;
const BACK_OFF_MIN_MS = 300;
const BACK_OFF_MAX_MS = 5000;
