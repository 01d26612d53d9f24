// One seed, one day: everything is put up, faults strike, faults stop, and it is asked whether all is well.
import { decideAlerts } from '../../../server/domain/decideAlerts.ts';
import { readBook } from '../../../server/application/advanceAlerts.ts';
import { readOpenBatches } from '../../../server/application/appendFacts.ts';
import { readHeard } from '../../../server/application/sensorsHeard.ts';
import { type Instant, instantFromIso, type SnapshotWire } from '../../../server/contract/index.ts';
import type { Fact } from '../../../server/domain/facts.ts';
import { checkDue, checkScreen, type Said } from './checkScreens.ts';
import { checkReadings, checkViews, readAllAir, readAllFacts } from './checkStore.ts';
import { type FactLog, makeFactLog } from './factLog.ts';
import { planFaults } from './faultPlan.ts';
import type { Spoil } from './faultyPorts.ts';
import { manageShop, sendPerson } from './people.ts';
import { makeProgram, type Program, type Running } from './program.ts';
import { openScreen, type Screen } from './screen.ts';
import { often, type Sensors, startSensors } from './sensors.ts';
import { checkTaps, makeTaps, type Taps } from './taps.ts';
import { type Chance, makeWorld, type World } from './world.ts';

export interface SeedReport {
  readonly seed: number;
  readonly violations: readonly string[];
  /** Of everything that happened, in order. */
  readonly hash: string;
  /** How often what happened. */
  readonly counts: Readonly<Record<string, number>>;
  /** The last lines of the trace; only where something was found. */
  readonly recent: readonly string[];
}

const OPENS_AT = instantFromIso('2026-01-12T07:00:00Z') as Instant;
const MIN_MS = 60_000;
/** Long enough for every page to have read itself anew; where a sensor stays silent, for that to be told. */
const CALM_MIN = { plain: 3, silent: 13 };
/** People go home so long before the end: what they tapped last is still to be answered. */
const REST_MIN = 3;
const CHECK_EVERY_MIN = 5;
const AGREE_STEPS_MS = 5000;
/** The latest message comes so long after it was said; then every page reads itself anew once. */
const AGREE_MAX_MS = 550_000;
const SENSOR_IDS = ['bay-1-air', 'bay-2-air', 'stranger-1'];

interface Day {
  readonly world: World;
  readonly program: Program;
  readonly sensors: Sensors;
  readonly screens: readonly Screen[];
  readonly taps: Taps;
  readonly log: FactLog;
}

/** Plays a seed; the same seed gives the same report. */
export async function playSeed(seed: number, spoil: Spoil = (store) => store): Promise<SeedReport> {
  const world = makeWorld(planFaults(seed), OPENS_AT);
  const log = makeFactLog(world);
  const program = makeProgram(world, { log, spoil });
  try {
    await playDay({ world, program, log });
  } catch (cause) {
    world.violate(`the day ends with ${cause instanceof Error ? String(cause.stack) : String(cause)}`);
  } finally {
    program.disk.remove();
  }
  const { violations, recent, counts } = world;
  return {
    seed,
    violations,
    hash: world.hash(),
    counts: Object.fromEntries([...counts].toSorted(([a], [b]) => (a < b ? -1 : 1))),
    recent: violations.length > 0 ? recent : [],
  };
}

async function playDay({ world, program, log }: Pick<Day, 'world' | 'program' | 'log'>): Promise<void> {
  const taps = makeTaps(world);
  program.start();
  const sensors = startSensors(world, program);
  const screens = ['bench-1', 'bench-2', 'floor'].map((name) => openScreen(world, program, { name, taps }));
  const people = screens.slice(0, 2).map((screen) => sendPerson(world, screen, taps));
  const changes: string[] = [];
  void manageShop(world, program, ({ mark, answer }) => {
    if (answer.kind === 'done') changes.push(mark);
  });
  startTroubles(world, program);
  const day: Day = { world, program, sensors, screens, taps, log };
  const { faultyMin, isSilentAtEnd } = world.plan;
  for (let passedMin = CHECK_EVERY_MIN; passedMin <= faultyMin; passedMin += CHECK_EVERY_MIN) {
    await world.time.runUntil(passedMin * MIN_MS);
    await checkSafety(day);
  }
  // What the last step has put out of joint must come right by itself.
  if (world.plan.wallStepsPerHour > 0) stepWall(world, world.chance('last step'));
  world.calm();
  program.endOutage();
  const calmMin = CALM_MIN[isSilentAtEnd ? 'silent' : 'plain'];
  for (let passedMin = 1; passedMin <= calmMin; passedMin += 1) {
    if (isSilentAtEnd) sensors.silence();
    if (passedMin === Math.max(1, calmMin - REST_MIN)) for (const person of people) person.goHome();
    await world.time.runUntil((faultyMin + passedMin) * MIN_MS);
    if (passedMin > 2) await checkCalls(day);
  }
  sensors.stop();
  await agree(day);
  await checkSafety(day);
  checkSetup(day, changes);
}

function startTroubles(world: World, program: Program): void {
  often(
    world,
    'outages',
    ({ outagesPerHour }) => outagesPerHour,
    (chance) => program.beginOutage(chance.between(500, 4 * MIN_MS), chance.is(0.5)),
  );
  often(
    world,
    'plain crashes',
    ({ crashesPerHour }) => crashesPerHour,
    () => program.crash('at any moment'),
  );
  often(
    world,
    'wall steps',
    ({ wallStepsPerHour }) => wallStepsPerHour,
    (chance) => stepWall(world, chance),
  );
}

function stepWall(world: World, chance: Chance): void {
  const byMs = chance.from([-20 * MIN_MS, -90_000, -2000, 2000, 90_000, 30 * MIN_MS]);
  world.note(`the wall clock steps by ${byMs}`);
  world.time.stepWall(byMs);
}

/** What must hold at any moment. */
async function checkSafety({ world, program, sensors, taps, log }: Day): Promise<void> {
  const store = program.disk.store();
  const kept = await readAllFacts(store);
  log.compare(kept);
  for (const found of await checkViews(store)) world.violate(found);
  const rows = await readAllAir(store, SENSOR_IDS);
  for (const found of checkReadings(sensors.messages, rows)) world.violate(found);
  for (const found of checkTaps(taps.list(), kept)) world.violate(found);
}

/** Faults have stopped: waits until every screen agrees with the program, and asks what should have been said. */
async function agree({ world, program, sensors, screens, log }: Day): Promise<void> {
  const untilMs = world.time.elapsedMs() + AGREE_MAX_MS;
  let found: string[] = ['nothing was asked'];
  while (found.length > 0 && world.time.elapsedMs() < untilMs) {
    await world.time.runUntil(world.time.elapsedMs() + AGREE_STEPS_MS);
    const running = program.running();
    found =
      running === null
        ? ['the program is down']
        : await disagreements(running, { world, sensors, screens, log });
  }
  for (const one of found) world.violate(`at the end ${one}`);
}

async function disagreements(
  running: Running,
  { world, sensors, screens, log }: Pick<Day, 'world' | 'sensors' | 'screens' | 'log'>,
): Promise<string[]> {
  const snapshot = await readNow(world, running.doors.readSnapshot());
  if (snapshot === null) return ['the program does not answer'];
  return [
    ...(sensors.isDone() ? [] : ['a message is still not acknowledged']),
    ...(screens.every((screen) => screen.kept().length === 0) ? [] : ['a tap is still kept']),
    ...(snapshot.health === 'ok' ? [] : ['the shop is degraded']),
    ...screens.flatMap((screen) => checkScreen(screen.name, screen.state(), snapshot)),
    ...(await unsaid(running, { snapshot, facts: log.list() })),
  ];
}

/** What should have been said by now and was not; asked each minute once faults have stopped. */
async function checkCalls({ world, program, log }: Day): Promise<void> {
  const running = program.running();
  if (running === null) return;
  const snapshot = await readNow(world, running.doors.readSnapshot());
  if (snapshot === null) return;
  for (const found of checkDue(snapshot, dueInputs(running, log.list()))) world.violate(found);
}

/** An answer that takes no simulated time, since nothing is slow any more; null where it does. */
async function readNow<T>(world: World, reading: Promise<T>): Promise<T | null> {
  return Promise.race([reading, world.time.settle().then(() => null)]);
}

function dueInputs({ shop }: Running, facts: readonly Fact[]): Parameters<typeof checkDue>[1] {
  return { ...saidLast(facts), waitingMin: shop.facts.alerts.waitingMin };
}

async function unsaid(
  running: Running,
  { snapshot, facts }: { snapshot: SnapshotWire; facts: readonly Fact[] },
): Promise<string[]> {
  const { shop } = running;
  const question = {
    batches: await readOpenBatches(shop),
    book: await readBook(shop),
    sensors: await readHeard(shop),
    nowAt: shop.clock.nowAt(),
    settings: shop.facts.alerts,
  };
  return [
    ...checkDue(snapshot, dueInputs(running, facts)),
    ...decideAlerts(question).facts.map(({ type }) => `${type} is due and not decided`),
    ...question.sensors
      .filter((sensor) => isQuietUntold(sensor, question))
      .map(({ sensorId }) => `sensor ${sensorId} is quiet and nobody was told`),
  ];
}

function isQuietUntold(
  { sensorId, heardAt }: { sensorId: string; heardAt: Instant },
  { book, nowAt, settings }: Pick<Parameters<typeof decideAlerts>[0], 'book' | 'nowAt' | 'settings'>,
): boolean {
  if (nowAt - heardAt < (settings.sensorQuietMin + 2) * MIN_MS) return false;
  return !book.alerts.some(
    ({ kind, withdrawnAt, subjects }) =>
      kind === 'sensorQuiet' && withdrawnAt === null && subjects.some((one) => one.sensorId === sensorId),
  );
}

function saidLast(facts: readonly Fact[]): Said {
  const said = new Map<string, number>();
  const raised = new Map<string, number>();
  const names = new Map<string, readonly string[]>();
  for (const fact of facts) {
    if (fact.type === 'AlertRaised') {
      const { alertId, kind, subjects } = fact.body;
      const about = subjects?.map(({ batchId }) => batchId) ?? [fact.batchId];
      names.set(
        alertId,
        about.map((one) => `${kind} ${one}`),
      );
      for (const one of about) {
        said.set(`${kind} ${one}`, fact.at);
        raised.set(`${kind} ${one}`, fact.at);
      }
    }
    if (fact.type === 'AlertSubjectsChanged') {
      const kind = (names.get(fact.body.alertId)?.[0] ?? '').split(' ')[0] ?? '';
      for (const { batchId, sinceAt } of fact.body.subjects) said.set(`${kind} ${batchId}`, sinceAt);
    }
    if (fact.type === 'AlertWithdrawn')
      for (const name of names.get(fact.body.alertId) ?? []) said.delete(name);
  }
  return { said, raised };
}

/** Every change of settings that was acknowledged stands in the ledger, once. */
function checkSetup({ world, log }: Day, marks: readonly string[]): void {
  for (const mark of marks) {
    const count = log.list().filter(({ by, type }) => by === mark && type === 'SettingsChanged').length;
    if (count > 1) world.violate(`the change ${mark} stands ${count} times in the ledger`);
  }
}
