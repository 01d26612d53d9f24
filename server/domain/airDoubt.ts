// How wrong the air of a batch may be: what is to come, and what nobody measured. One offset stands for all of it.
import type { Instant } from '../contract/index.ts';
import { AHEAD_MIN, AHEAD_SD_K } from './aheadError.ts';
import type { AirPoint, BayAir } from './airSeries.ts';
import type { Stay } from './batch.ts';
import { minutesBetween } from './minutes.ts';

/** What is doubtful of the air that a film meets until it is ready. */
export interface AirDoubt {
  /** One standard deviation of an even offset that moves the film as much [K]. */
  readonly offsetSdK: number;
  /** The longest time without a reading since mixing, to the last one or to now [min]. */
  readonly silentMaxMin: number;
}

/** The film whose air is looked at. */
export interface DoubtfulFilm {
  readonly stays: readonly Stay[];
  readonly mixedAt: Instant;
  readonly nowAt: Instant;
  /** When the film is expected to be ready. */
  readonly readyAt: Instant;
}

/** Readings further apart than this leave a gap (design MODEL §5). */
export const GAP_MAX_MIN = 20;
/** A sensor's own error (design MODEL §5). */
const SENSOR_SD_K = 0.3;
/** Unwatched air wanders: by this much in so long, and with the root of time (chosen). */
const WANDER_K = 1;
const WANDER_MIN = 45;

/**
 * The doubt about the air of one film, by how much of its life each unwatched stretch takes. Air after it is ready no
 * longer matters: a batch that nobody tests does not grow more doubtful for ever.
 */
export function doubtAir(doubtful: DoubtfulFilm, airOf: (bayId: string) => BayAir): AirDoubt {
  const film = { ...doubtful, nowAt: Math.min(doubtful.nowAt, doubtful.readyAt) as Instant };
  const lifeMin = minutesBetween(film.mixedAt, film.readyAt);
  let offsetK2 = 0;
  let silentMaxMin = 0;
  for (const [index, stay] of film.stays.entries()) {
    const leftAt = film.stays[index + 1]?.fromAt ?? film.readyAt;
    const isLast = leftAt >= film.readyAt;
    const fromAt = later(stay.fromAt, film.mixedAt);
    const untilAt = isLast ? film.readyAt : leftAt;
    if (fromAt >= untilAt) continue;
    const { air, aheadErrorSdK } = airOf(stay.bayId);
    for (const stretch of stretchesOf(air, { fromAt, untilAt })) {
      const shareRatio = minutesBetween(stretch.fromAt, stretch.untilAt) / lifeMin;
      const isAhead = stretch.isOpen && isLast;
      silentMaxMin = Math.max(silentMaxMin, isAhead ? silentUntilNowMin(stretch, film) : stretch.silentMin);
      offsetK2 += shareRatio ** 2 * (isAhead ? aheadK2(stretch, { film, aheadErrorSdK }) : gapK2(stretch));
    }
  }
  return { offsetSdK: Math.sqrt(offsetK2), silentMaxMin };
}

/** A stretch of a stay between two readings that follow each other; an open one has no reading behind it. */
interface Stretch {
  readonly fromAt: Instant;
  readonly untilAt: Instant;
  readonly lastReadingAt: Instant | null;
  /** From reading to reading, also where that reaches beyond the stay. */
  readonly silentMin: number;
  readonly isOpen: boolean;
}

/** Only stretches that matter: gaps, and what follows the last reading. */
function stretchesOf(
  air: readonly AirPoint[],
  { fromAt, untilAt }: { fromAt: Instant; untilAt: Instant },
): Stretch[] {
  const stretches: Stretch[] = [];
  const first = Math.max(
    0,
    air.findLastIndex((point) => point.at <= fromAt),
  );
  let before: AirPoint | null = air[first] !== undefined && air[first].at <= fromAt ? air[first] : null;
  for (const point of air.slice(before === null ? first : first + 1)) {
    if ((before?.at ?? fromAt) >= untilAt) return stretches;
    const silentMin = minutesBetween(before?.at ?? fromAt, point.at);
    if (silentMin > GAP_MAX_MIN) {
      stretches.push({
        fromAt: later(before?.at ?? fromAt, fromAt),
        untilAt: Math.min(point.at, untilAt) as Instant,
        lastReadingAt: before?.at ?? null,
        silentMin,
        isOpen: false,
      });
    }
    before = point;
  }
  const lastReadingAt = before?.at ?? null;
  if ((lastReadingAt ?? fromAt) >= untilAt) return stretches;
  const openFromAt = later(lastReadingAt ?? fromAt, fromAt);
  const silentMin = minutesBetween(lastReadingAt ?? fromAt, untilAt);
  return [...stretches, { fromAt: openFromAt, untilAt, lastReadingAt, silentMin, isOpen: true }];
}

/** A straight line between two readings is wrong most in its middle: a bridge, in the mean a sixth of its length. */
function gapK2({ silentMin }: Stretch): number {
  return wanderedK2(silentMin) / 6;
}

/** What was said to come, and more for each minute of silence past the twentieth. */
function aheadK2(
  { lastReadingAt, untilAt, fromAt }: Stretch,
  { film, aheadErrorSdK = AHEAD_SD_K }: { film: DoubtfulFilm; aheadErrorSdK?: number | undefined },
): number {
  const fromReadingAt = lastReadingAt ?? fromAt;
  const offsetK = aheadOffsetSdK({ aheadMin: minutesBetween(fromReadingAt, untilAt), aheadErrorSdK });
  const silentMin = Math.max(0, minutesBetween(fromReadingAt, film.nowAt) - GAP_MAX_MIN);
  return offsetK ** 2 + wanderedK2(silentMin);
}

/** How wrong air that is foretold for some minutes may be, as one even offset over them [K]. */
export function aheadOffsetSdK({
  aheadMin,
  aheadErrorSdK = AHEAD_SD_K,
}: {
  aheadMin: number;
  aheadErrorSdK?: number;
}): number {
  const sensorK2 = SENSOR_SD_K ** 2;
  const growthK2 = Math.max(0, aheadErrorSdK ** 2 - sensorK2);
  // Two thirds on: an error that grows along the way counts as it stands there.
  return Math.sqrt(sensorK2 + (growthK2 * (2 / 3) * aheadMin) / AHEAD_MIN);
}

function wanderedK2(durationMin: number): number {
  return WANDER_K ** 2 * (durationMin / WANDER_MIN);
}

function silentUntilNowMin({ lastReadingAt, fromAt }: Stretch, { nowAt }: DoubtfulFilm): number {
  return Math.max(0, minutesBetween(lastReadingAt ?? fromAt, nowAt));
}

function later(leftAt: Instant, rightAt: Instant): Instant {
  return leftAt > rightAt ? leftAt : rightAt;
}
