// Sensors and their broker: at least once, and so doubled, late, out of order; now and then absurd, unreadable or silent.
import { receiveReading } from '../../../server/adapters/broker/receiveReading.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import { instantFromMs, isoFromInstant, type Instant } from '../../../server/contract/index.ts';
import type { Message, Said } from './message.ts';
import type { Program } from './program.ts';
import type { Chance, World } from './world.ts';

export interface Sensors {
  readonly messages: readonly Message[];
  /** The sensors of both bays say nothing any more from now on; what was said is still delivered. */
  silence(): void;
  stop(): void;
  /** Whether all that was said has been acknowledged. */
  isDone(): boolean;
}

interface Sensor {
  readonly sensorId: string;
  readonly everyMs: number;
  readonly offsetK: number;
  clockOffMs: number;
  silentUntilMs: number;
  lastSaid: readonly Said[];
}

/** How long the broker waits for an answer, and then before it sends again. */
const PATIENCE_MS = 15_000;
const AGAIN_MS = [300, 6000] as const;
const LATE_MAX_MS = 400_000;
const STRANGER = 'stranger-1';
const PREFIX = 'sandby/v1';
const MIN_MS = 60_000;

/** Lets three sensors speak from now on: one in each bay, and one that nobody knows. */
export function startSensors(world: World, program: Program): Sensors {
  const chance = world.chance('sensors');
  const messages: Message[] = [];
  let isStopped = false;
  const sensors = ['bay-1-air', 'bay-2-air', STRANGER].map((sensorId, index): Sensor => {
    const everyMs = chance.from([90_000, 150_000, 240_000]);
    return { sensorId, everyMs, offsetK: index - 1, clockOffMs: 0, silentUntilMs: 0, lastSaid: [] };
  });
  function speak(sensor: Sensor): void {
    if (isStopped) return;
    world.after(sensor.everyMs, () => speak(sensor));
    if (world.time.elapsedMs() < sensor.silentUntilMs) return;
    const message = makeMessage(world, sensor);
    messages.push(message);
    void deliver(world, program, message);
  }
  for (const sensor of sensors) {
    world.after(chance.between(0, 20_000), () => speak(sensor));
    often(
      world,
      'sensor steps',
      ({ sensorStepsPerHour }) => sensorStepsPerHour,
      (own) => {
        sensor.clockOffMs = own.from([0, 0, 20_000, -45_000, 600_000, -25 * 60 * MIN_MS]);
      },
    );
    often(
      world,
      'silences',
      ({ silencesPerHour }) => silencesPerHour,
      (own) => {
        sensor.silentUntilMs = world.time.elapsedMs() + own.between(MIN_MS, 25 * MIN_MS);
      },
    );
  }
  return {
    messages,
    silence() {
      for (const sensor of sensors) if (sensor.sensorId !== STRANGER) sensor.silentUntilMs = Infinity;
    },
    stop() {
      isStopped = true;
    },
    isDone: () => messages.every(({ isAcknowledged }) => isAcknowledged),
  };
}

/** Something that strikes at random moments, as often an hour as the plan says, until faults stop. */
export function often(
  world: World,
  name: string,
  perHour: (plan: World['plan']) => number,
  strike: (chance: Chance) => void,
): void {
  const chance = world.chance(name);
  const waitMs = chance.waitMs(perHour(world.plan));
  if (waitMs === null) return;
  world.after(waitMs, () => {
    if (perHour(world.plan) === 0) return;
    world.count(name);
    strike(chance);
    often(world, name, perHour, strike);
  });
}

function makeMessage(world: World, sensor: Sensor): Message {
  const chance = world.chance(`words ${sensor.sensorId}`);
  const { absurdShare, garbageShare, airC, humidityPct } = world.plan;
  const topic = `${PREFIX}/readings/${sensor.sensorId}`;
  const common = { topic, deliveryCount: 0, isAcknowledged: false };
  if (chance.is(garbageShare)) return { ...common, ...chance.from(GARBAGE) };
  const elapsedMin = world.time.elapsedMs() / MIN_MS;
  const number = world.next();
  const calmOffMs = absurdShare === 0 ? 0 : sensor.clockOffMs;
  const at = instantFromMs(Math.floor(world.time.nowAt() / 1000) * 1000 + calmOffMs);
  const swing = 1.5 * Math.sin(elapsedMin / 8 + sensor.offsetK) + chance.between(-0.05, 0.05);
  const isAbsurd = chance.is(absurdShare);
  const absurd = isAbsurd ? chance.from(ABSURD) : {};
  const told = {
    // No two messages tell the same number, so that each is found again.
    airTemperatureC: unique(airC + sensor.offsetK + swing + (absurd.stepK ?? 0), number),
    relativeHumidityPct: unique(humidityPct + swing, number),
    at:
      absurd.isContradicted === true
        ? (sensor.lastSaid[0]?.at ?? at)
        : ((at + (absurd.offMs ?? 0)) as Instant),
  };
  if (absurd.airTemperatureC !== undefined) {
    const payload = JSON.stringify({ airTemperatureC: absurd.airTemperatureC, at: isoFromInstant(at) });
    return { ...common, payload, says: [] };
  }
  const form = chance.from(['plain', 'plain', 'senml', 'timeless'] as const);
  const saidAt = form === 'timeless' ? null : told.at;
  const says: Said[] = (['airTemperatureC', 'relativeHumidityPct'] as const).map((quantity) => {
    return { sensorId: sensor.sensorId, quantity, measurement: told[quantity], at: saidAt };
  });
  sensor.lastSaid = says;
  return { ...common, payload: write(form, { ...told, sensorId: sensor.sensorId }), says };
}

function unique(measurement: number, number: number): number {
  return Number((Math.round(measurement * 100) / 100 + number / 1e6).toFixed(6));
}

interface ToldAir {
  readonly sensorId: string;
  readonly airTemperatureC: number;
  readonly relativeHumidityPct: number;
  readonly at: Instant;
}

function write(form: 'plain' | 'senml' | 'timeless', { sensorId, at, ...air }: ToldAir): string {
  if (form === 'plain') return JSON.stringify({ sensorId, at: isoFromInstant(at), ...air });
  if (form === 'timeless') return JSON.stringify(air);
  return JSON.stringify([
    { bn: `${sensorId}:`, bt: at / 1000, n: 'temperature', u: 'Cel', v: air.airTemperatureC },
    { n: 'humidity', u: '%RH', v: air.relativeHumidityPct },
  ]);
}

/** As a broker does it at QoS 1: again until it is acknowledged; and sometimes once more. */
async function deliver(world: World, program: Program, message: Message): Promise<void> {
  const chance = world.chance('broker');
  const { lateShare, latencyMaxMs, repeatShare } = world.plan;
  await world.wait(chance.is(lateShare) ? chance.between(0, LATE_MAX_MS) : chance.between(1, latencyMaxMs));
  while (!message.isAcknowledged) {
    const isTaken = await hand(world, program, message);
    message.isAcknowledged = isTaken && !chance.is(world.plan.lostAckShare);
    if (!message.isAcknowledged) await world.wait(chance.between(...AGAIN_MS));
  }
  if (!chance.is(repeatShare)) return;
  await world.wait(chance.between(1, LATE_MAX_MS));
  world.count('repeated messages');
  await hand(world, program, message);
}

/** Whether the program has acknowledged it. */
async function hand(world: World, program: Program, message: Message): Promise<boolean> {
  const running = program.running();
  if (running === null) return false;
  message.deliveryCount += 1;
  const { doors, refused } = running;
  const taken = receiveReading(message, { doors, refused, topicPrefix: PREFIX }).then(
    () => true,
    (cause: unknown) => {
      if (!(cause instanceof PortFailure)) world.violate(`a message ends with ${String(cause)}`);
      return false;
    },
  );
  const isTaken = await Promise.race([taken, world.wait(PATIENCE_MS).then(() => false)]);
  world.note(`message ${message.payload.slice(0, 60)} ${isTaken}`);
  return isTaken;
}

interface Absurd {
  readonly stepK?: number;
  readonly offMs?: number;
  readonly isContradicted?: boolean;
  /** Beyond what is physical: refused. */
  readonly airTemperatureC?: number;
}

const ABSURD: readonly Absurd[] = [
  { stepK: 20 },
  { stepK: -20 },
  { offMs: 2 * 60 * MIN_MS },
  { offMs: -25 * 60 * MIN_MS },
  { isContradicted: true },
  { airTemperatureC: 400 },
  { airTemperatureC: -273.16 },
];

const GARBAGE: readonly Pick<Message, 'payload' | 'says'>[] = [
  '',
  'warm',
  '{"airTemperatureC": ',
  '{"airTemperatureC": "21"}',
  '[]',
  '[{"bn":"x:","u":"Far","v":70}]',
  '{"__proto__": {"airTemperatureC": 21}}',
  '\u0000\u0001',
].map((payload) => ({ payload, says: [] }));
