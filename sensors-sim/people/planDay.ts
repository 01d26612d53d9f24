// A day's plan: which cars get which coats when, and which doors stand open; the same for every run of a seed and date.
import type { Instant } from '../../server/contract/index.ts';
import { drawWeather, type WeatherDraw } from '../air/outdoor.ts';
import { instantOfDay, type LocalDay, weekdayOf } from '../localDay.ts';
import { drawBetween, drawChance, drawFrom, makeRandom, type Random } from '../random.ts';
import type { CarPlan, CoatPlan, DoorPlan, LampUse, Scenario } from '../scenarios/scenario.ts';

export interface Job {
  /** Names the job for all days: its repair order. */
  readonly key: string;
  readonly car: CarPlan;
  readonly mixAt: Instant;
  readonly rolledInAt: Instant | null;
  readonly promisedAt: Instant | null;
}

export interface DayPlan {
  readonly date: string;
  readonly jobs: readonly Job[];
  readonly doors: readonly DoorPlan[];
  /** Whether anyone comes to work. */
  readonly isOpen: boolean;
  readonly weather: WeatherDraw;
}

/** The plan of a local day. */
export function planDay(scenario: Scenario, { seed, day }: { seed: number; day: LocalDay }): DayPlan {
  const name = `${scenario.chanceName}${day.date}`;
  const weather = drawWeather({ seed, day });
  if (scenario.hours.daysOff.includes(weekdayOf(day))) {
    return { date: day.date, jobs: [], doors: [], isOpen: false, weather };
  }
  const random = makeRandom(seed, `day ${name}`);
  const more = moreCars(scenario, random).map((car, index) =>
    withExtras(scenario, car, makeRandom(seed, `extras ${name} ${index}`)),
  );
  const cars = [...scenario.cars, ...more];
  const jobs = cars.map((car, index): Job => {
    const at = (minuteMin: number | null): Instant | null =>
      minuteMin === null ? null : instantOfDay(day, minuteMin);
    return {
      key: repairOrderOf(scenario.repairOrderPrefix, { day, index }),
      car,
      mixAt: instantOfDay(day, car.mixMin),
      rolledInAt: at(car.rolledInMin),
      promisedAt: at(car.promisedMin),
    };
  });
  return {
    date: day.date,
    jobs,
    doors: [...scenario.doors, ...carDoors(cars), ...chanceDoors(scenario, random)],
    isOpen: true,
    weather,
  };
}

function repairOrderOf(prefix: string, { day, index }: { day: LocalDay; index: number }): string {
  const [, month, date] = day.date.split('-');
  return `${prefix}${month}${date}-${String(index + 1).padStart(2, '0')}`;
}

function moreCars(scenario: Scenario, random: Random): CarPlan[] {
  const { more, crew } = scenario;
  const cars: CarPlan[] = [];
  for (
    let mixMin = more.fromMin;
    mixMin < more.untilMin;
    mixMin += Math.round(drawBetween(random, more.everyMin))
  ) {
    const isRolledIn = drawChance(random, more.probabilityRolledIn);
    const coats: readonly CoatPlan[] = drawFrom(random, more.coatings);
    const hasPromise = drawChance(random, 0.4);
    cars.push({
      panel: drawFrom(random, more.panels),
      substrate: drawChance(random, 0.8) ? 'steel' : 'aluminium',
      bayId: drawFrom(random, more.bayIds),
      initials: drawFrom(random, crew).initials,
      mixMin,
      rolledInMin: isRolledIn ? mixMin - 14 : null,
      promisedMin: hasPromise ? Math.round((mixMin + 60 * coats.length + 120) / 30) * 30 : null,
      remainingWorkMin: hasPromise ? 90 : null,
      lamp: null,
      move: null,
      coats,
    });
  }
  return cars;
}

/** A lamp, a move or a mix without hardener, by a chance of its own, so that the day stays as it is without them. */
function withExtras({ more }: Scenario, car: CarPlan, random: Random): CarPlan {
  const hasLamp = drawChance(random, more.probabilityLamp);
  const lamp: LampUse = {
    afterMin: drawBetween(random, more.lampAfterMin),
    forMin: Math.round(drawBetween(random, more.lampForMin)),
    isEachCoat: true,
  };
  const isMoved = drawChance(random, more.probabilityMoved);
  const afterMin = drawBetween(random, more.movedAfterMin);
  const otherBays = more.bayIds.filter((bayId) => bayId !== car.bayId);
  const forgetsHardener = drawChance(random, more.probabilityForgetsHardener);
  return {
    ...car,
    lamp: hasLamp ? lamp : null,
    move: isMoved ? { afterMin, bayId: drawFrom(random, otherBays) } : null,
    coats: car.coats.map((coat, index) =>
      forgetsHardener && index === 0 ? { ...coat, hardenerShare: HARDLY_SHARE } : coat,
    ),
  };
}

function carDoors(cars: readonly CarPlan[]): DoorPlan[] {
  return cars.flatMap(({ bayId, rolledInMin }) =>
    rolledInMin === null
      ? []
      : [{ bayId, fromMin: rolledInMin - 1.5, untilMin: rolledInMin + 1.5, openShare: 1 }],
  );
}

function chanceDoors({ rooms, hours }: Scenario, random: Random): DoorPlan[] {
  return rooms.flatMap((room) =>
    Array.from({ length: room.doorOpeningCount }, () => {
      const fromMin = drawBetween(random, [hours.opensMin, hours.closesMin]);
      const untilMin = fromMin + drawBetween(random, room.doorOpenMin);
      return { bayId: room.bayId, fromMin, untilMin, openShare: drawBetween(random, [0.2, 1]) };
    }),
  );
}

const HARDLY_SHARE = 0.15;
