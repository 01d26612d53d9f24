// The whole shop's air a step later: weather, doors, burners, people, cars rolled in cold, and what the sensors feel.
import type { Instant } from '../../server/contract/index.ts';
import { type LocalDay, minuteOfDay } from '../localDay.ts';
import type { DayPlan } from '../people/planDay.ts';
import type { RoomPlan, Scenario } from '../scenarios/scenario.ts';
import { relativeHumidityFrom } from './humidity.ts';
import { type Outdoor, outdoorAt } from './outdoor.ts';
import { readSensor, type Reading, type SensorState, stepSensor } from './sensor.ts';
import { sensorFaultAt } from './sensorFault.ts';
import { isHeatingFrom, type RoomState, stepBody, stepRoom } from './stepRoom.ts';

export const STEP_S = 10;

export interface Shop {
  readonly at: Instant;
  readonly outdoor: Outdoor;
  readonly rooms: ReadonlyMap<string, RoomState>;
  readonly sensors: ReadonlyMap<string, SensorState>;
  /** Temperatures of the bodies of cars that came in today, by car. */
  readonly carsC: ReadonlyMap<string, number>;
}

export interface ShopContext {
  readonly scenario: Scenario;
  readonly seed: number;
  readonly day: LocalDay;
  /** Days since the play began; the days that only warm it up are negative. */
  readonly dayIndex: number;
  readonly plan: DayPlan;
}

/** A shop at an instant without a past: rooms and sensors as the thermostat keeps them. */
export function makeShop(
  { scenario, seed, day }: Pick<ShopContext, 'scenario' | 'seed' | 'day'>,
  at: Instant,
): Shop {
  const outdoor = outdoorAt(scenario.outdoor, { seed, day, at });
  const rooms = new Map(
    scenario.rooms.map((room) => {
      const airC = room.thermostat.at(-1)?.targetC ?? outdoor.airC;
      const state = {
        airC,
        wallC: airC,
        bodyC: airC,
        vapourGPerM3: outdoor.vapourGPerM3 * 1.1,
        isHeating: false,
      };
      return [room.bayId, state];
    }),
  );
  const shop = {
    at,
    outdoor,
    rooms,
    sensors: new Map<string, SensorState>(),
    carsC: new Map<string, number>(),
  };
  return { ...shop, sensors: new Map(scenario.sensors.map((s) => [s.sensorId, airAround(shop, s.roomId)])) };
}

/** The shop ten seconds later. */
export function stepShop(context: ShopContext, shop: Shop): Shop {
  const { scenario, seed, day } = context;
  const at = (shop.at + STEP_S * 1000) as Instant;
  const outdoor = outdoorAt(scenario.outdoor, { seed, day, at, weather: context.plan.weather });
  const carsC = stepCars(context, { ...shop, at, outdoor });
  const rooms = new Map(
    scenario.rooms.map((room) => [room.bayId, stepOneRoom(context, { ...shop, at, outdoor, carsC }, room)]),
  );
  const next = { at, outdoor, rooms, sensors: shop.sensors, carsC };
  const sensors = new Map(
    scenario.sensors.map((plan) => {
      const around = airAround(next, plan.roomId);
      const state = shop.sensors.get(plan.sensorId) ?? around;
      return [plan.sensorId, stepSensor(plan, state, { around, stepS: STEP_S })];
    }),
  );
  return { ...next, sensors };
}

/** The readings that fall on the shop's instant; every sensor has its own second. */
export function readingsOf({ scenario, seed, day, dayIndex }: ShopContext, shop: Shop): Reading[] {
  const sinceMidnightS = (shop.at - day.midnightAt) / 1000;
  return scenario.sensors.flatMap((plan, index) => {
    const isDue = (sinceMidnightS - index * STEP_S) % (plan.everyMin * 60) === 0;
    const state = shop.sensors.get(plan.sensorId);
    if (!isDue || state === undefined) return [];
    const { offK, isSilent } = sensorFaultAt(plan.fault, { dayIndex, minuteMin: sinceMidnightS / 60 });
    if (isSilent) return [];
    const faulty = offK === 0 ? plan : { ...plan, biasK: plan.biasK + offK };
    return [readSensor(faulty, state, { seed, at: shop.at, sinceMidnightS })];
  });
}

/** Temperature and humidity of a room's air, or of the yard's. */
export function airAround(
  { rooms, outdoor }: Pick<Shop, 'rooms' | 'outdoor'>,
  roomId: string | null,
): SensorState {
  const { airC, vapourGPerM3 } = (roomId === null ? null : rooms.get(roomId)) ?? outdoor;
  return { airC, relativeHumidityPct: Math.min(100, relativeHumidityFrom({ airC, vapourGPerM3 })) };
}

function stepOneRoom({ plan, day, scenario }: ShopContext, shop: Shop, room: RoomPlan): RoomState {
  const before = shop.rooms.get(room.bayId);
  if (before === undefined) throw new RangeError(`no room ${room.bayId}`);
  const minuteMin = minuteOfDay(day, shop.at);
  // On a day off the night's setting stays.
  const isHeating = isHeatingFrom(room, before, plan.isOpen ? minuteMin : 0);
  const { opensMin, closesMin } = scenario.hours;
  const isManned = plan.isOpen && minuteMin >= opensMin && minuteMin < closesMin;
  const openShare = plan.doors
    .filter((door) => door.bayId === room.bayId && minuteMin >= door.fromMin && minuteMin < door.untilMin)
    .reduce((widest, door) => Math.max(widest, door.openShare), 0);
  const cars = plan.jobs.filter((job) => job.car.bayId === room.bayId && shop.carsC.has(job.key));
  const chillWPerM2 = cars.reduce(
    (sum, job) => sum + CAR_W_PER_M2K * ((shop.carsC.get(job.key) ?? before.airC) - before.airC),
    0,
  );
  const sourceGPerM3PerS = isManned ? room.vapourGPerM3PerS * (1 + cars.length) : room.vapourGPerM3PerS * 0.6;
  return stepRoom(
    room,
    { ...before, isHeating },
    {
      outdoor: shop.outdoor,
      gainWPerM2: (isHeating ? room.heaterWPerM2 : 0) + (isManned ? PEOPLE_W_PER_M2 : 0) + chillWPerM2,
      openShare,
      sourceGPerM3PerS,
      stepS: STEP_S,
    },
  );
}

/** Cars that have come in today warm up towards their room; they leave the table at the next midnight. */
function stepCars({ plan, day }: ShopContext, shop: Shop): Map<string, number> {
  const cars = plan.jobs.filter((job) => job.rolledInAt !== null && job.rolledInAt <= shop.at);
  return new Map(
    cars.map((job) => {
      const airC = shop.rooms.get(job.car.bayId)?.airC ?? shop.outdoor.airC;
      const bodyC = shop.at > day.midnightAt ? (shop.carsC.get(job.key) ?? shop.outdoor.airC) : airC;
      return [job.key, stepBody(bodyC, { airC, stepS: STEP_S })];
    }),
  );
}

const CAR_W_PER_M2K = 1.1;
const PEOPLE_W_PER_M2 = 3;
