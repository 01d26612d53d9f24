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

/** The weather at an instant of a day. */
export function outdoorAt(
  plan: OutdoorPlan,
  { seed, day, at }: { seed: number; day: LocalDay; at: Instant },
): Outdoor {
  const minuteMin = minuteOfDay(day, at);
  const warmthShare = warmthShareAt(plan, minuteMin);
  const fade = Math.min(Math.max(minuteMin / DAY_MIN, 0), 1);
  const today = dayOffset(seed, Math.round(day.midnightAt / DAY_MS));
  const tomorrow = dayOffset(seed, Math.round(day.midnightAt / DAY_MS) + 1);
  const wobble = wobbleAt(seed, at);
  const airC =
    plan.lowestC +
    (plan.highestC - plan.lowestC) * warmthShare +
    plan.dayToDayK * (today * (1 - fade) + tomorrow * fade) +
    0.35 * wobble;
  const [atLowest, atHighest] = plan.humidityPct;
  const relativeHumidityPct = Math.min(98, atLowest + (atHighest - atLowest) * warmthShare);
  return {
    airC,
    vapourGPerM3: vapourFrom({ airC, relativeHumidityPct }),
    sunWPerM2: sunAt(plan, minuteMin) * (0.75 + 0.25 * wobbleAt(seed + 1, at)),
    windPerS: plan.windPerS * Math.max(0.2, 1 + 0.5 * wobbleAt(seed + 2, at)),
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

function dayOffset(seed: number, dayIndex: number): number {
  return drawNormal(makeRandom(seed, `weather ${dayIndex}`));
}

/** A slow, smooth number around 0: three waves of periods that never meet. */
function wobbleAt(seed: number, at: Instant): number {
  const random = makeRandom(seed, 'wobble');
  const sinceMin = (at % (1000 * DAY_MS)) / 60_000;
  return WOBBLES_MIN.reduce(
    (sum, period) =>
      sum + Math.sin(2 * Math.PI * (sinceMin / period + random.nextFraction())) / WOBBLES_MIN.length,
    0,
  );
}

const DAY_MIN = 1440;
const DAY_MS = 86_400_000;
const WOBBLES_MIN = [22, 68, 163];
