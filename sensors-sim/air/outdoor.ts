// The weather outside: temperature, humidity, sun and wind of any instant, from the scenario and the seed alone.
import type { Instant } from '../../server/contract/index.ts';
import { type LocalDay, minuteOfDay } from '../localDay.ts';
import { drawNormal, makeRandom } from '../random.ts';
import type { OutdoorPlan } from '../scenarios/scenario.ts';
import { vapourFrom } from './humidity.ts';

export interface Outdoor {
  readonly airC: number;
  readonly vapourGPerM3: number;
  readonly sunWPerM2: number;
  readonly windPerS: number;
}

/** What chance decides of a day's weather, drawn once for all its instants. */
export interface WeatherDraw {
  readonly todayZ: number;
  readonly tomorrowZ: number;
  /** Where the waves of warmth, sun and wind begin. */
  readonly waveFractions: readonly (readonly number[])[];
}

/** Draws the weather of a day. */
export function drawWeather({ seed, day }: { seed: number; day: LocalDay }): WeatherDraw {
  const dayIndex = Math.round(day.midnightAt / DAY_MS);
  return {
    todayZ: dayOffset(seed, dayIndex),
    tomorrowZ: dayOffset(seed, dayIndex + 1),
    waveFractions: [seed, seed + 1, seed + 2].map((each) => {
      const random = makeRandom(each, 'wobble');
      return WOBBLES_MIN.map(() => random.nextFraction());
    }),
  };
}

/** The weather at an instant of a day. */
export function outdoorAt(
  plan: OutdoorPlan,
  { day, at, ...drawn }: { seed: number; day: LocalDay; at: Instant; weather?: WeatherDraw },
): Outdoor {
  const { todayZ, tomorrowZ, waveFractions } = drawn.weather ?? drawWeather({ ...drawn, day });
  const minuteMin = minuteOfDay(day, at);
  const warmthShare = warmthShareAt(plan, minuteMin);
  const fade = Math.min(Math.max(minuteMin / DAY_MIN, 0), 1);
  const [warmth = 0, sun = 0, wind = 0] = waveFractions.map((fractions) => wobbleAt(fractions, at));
  const airC =
    plan.lowestC +
    (plan.highestC - plan.lowestC) * warmthShare +
    plan.dayToDayK * (todayZ * (1 - fade) + tomorrowZ * fade) +
    spellK(plan, at) +
    0.35 * warmth;
  const [atLowest, atHighest] = plan.humidityPct;
  const relativeHumidityPct = Math.min(98, atLowest + (atHighest - atLowest) * warmthShare);
  return {
    airC,
    vapourGPerM3: vapourFrom({ airC, relativeHumidityPct }),
    sunWPerM2: sunAt(plan, minuteMin) * (0.75 + 0.25 * sun),
    windPerS: plan.windPerS * Math.max(0.2, 1 + 0.5 * wind),
  };
}

/** 0 at the coldest time, 1 at the warmest, a half cosine between them. */
function warmthShareAt(plan: OutdoorPlan, minuteMin: number): number {
  const riseMin = plan.highestMin - plan.lowestMin;
  const sinceLowestMin = (((minuteMin - plan.lowestMin) % DAY_MIN) + DAY_MIN) % DAY_MIN;
  const phase =
    sinceLowestMin < riseMin
      ? sinceLowestMin / riseMin
      : 1 + (sinceLowestMin - riseMin) / (DAY_MIN - riseMin);
  return (1 - Math.cos(Math.PI * phase)) / 2;
}

function sunAt(plan: OutdoorPlan, minuteMin: number): number {
  const [fromMin, untilMin] = plan.sunMin;
  if (minuteMin <= fromMin || minuteMin >= untilMin) return 0;
  return plan.sunWPerM2 * Math.sin((Math.PI * (minuteMin - fromMin)) / (untilMin - fromMin));
}

/** What a cold or warm spell brings now: it comes slowly and goes by the end of its round. */
function spellK({ spell }: OutdoorPlan, at: Instant): number {
  if (spell === null) return 0;
  const sinceDays = (at / DAY_MS) % spell.everyDays;
  const { comesWithinDays, everyDays, byK } = spell;
  const phase =
    sinceDays < comesWithinDays
      ? sinceDays / comesWithinDays
      : (everyDays - sinceDays) / (everyDays - comesWithinDays);
  return (byK * (1 - Math.cos(Math.PI * phase))) / 2;
}

function dayOffset(seed: number, dayIndex: number): number {
  return drawNormal(makeRandom(seed, `weather ${dayIndex}`));
}

/** A slow, smooth number around 0: three waves of periods that never meet. */
function wobbleAt(startFractions: readonly number[], at: Instant): number {
  const sinceMin = (at % (1000 * DAY_MS)) / 60_000;
  return WOBBLES_MIN.reduce(
    (sum, period, index) =>
      sum + Math.sin(2 * Math.PI * (sinceMin / period + (startFractions[index] ?? 0))) / WOBBLES_MIN.length,
    0,
  );
}

const DAY_MIN = 1440;
const DAY_MS = 86_400_000;
const WOBBLES_MIN = [22, 68, 163];
