// What drives a film from outside, as straight pieces of time: air, humidity and lamp between two breakpoints.
import type { CardStatement, FilmJob, Series } from './cardStatement.ts';
import { BATCH } from './constants.ts';
import { kelvinFromCelsius, secondsFromMinutes } from './units.ts';

/**
 * The straight piece of air, humidity and lamp that holds at one instant and until the next breakpoint.
 */
export interface FilmDrive {
  job: FilmJob;
  humidityEffectPer10Pct: number;
  airIndex: number;
  humidityIndex: number;
  /** The next breakpoint, infinite after the last. */
  untilS: number;
  airK: number;
  airKPerS: number;
  lampWPerM2: number;
  /** ln of the speed of both reactions, from humidity and time scale, and the speed itself where that stays. */
  speedLogRatio: number;
  speedRatio: number;
  speedLogPerS: number;
}

const NO_JOB: FilmJob = {
  substrate: 'steel',
  thicknessMm: 1,
  hardenerPct: 1,
  airC: [[0, 0]],
  humidityPct: [[0, 0]],
};

/**
 * A drive without a job yet.
 * @returns a drive to be begun
 * @source own
 */
export function makeFilmDrive(): FilmDrive {
  return {
    job: NO_JOB,
    humidityEffectPer10Pct: 0,
    airIndex: 0,
    humidityIndex: 0,
    untilS: 0,
    airK: 0,
    airKPerS: 0,
    lampWPerM2: 0,
    speedLogRatio: 0,
    speedRatio: 1,
    speedLogPerS: 0,
  };
}

/**
 * Sets a drive to the instant of mixing.
 * @param drive  written in place
 * @param job  the film, judged before
 * @param card  its product, judged before
 * @source own
 */
export function beginDrive(drive: FilmDrive, job: FilmJob, card: CardStatement): void {
  drive.job = job;
  drive.humidityEffectPer10Pct = card.humidityEffectPer10Pct;
  drive.airIndex = -1;
  drive.humidityIndex = -1;
  enterPiece(drive, 0);
}

/**
 * Moves a drive to an instant, into its next piece where one begins.
 * speed = exp(−b (RH − 50) / 10) / s, a reading above 100 % counting as 100
 * @param drive  written in place
 * @param atS  [s] since mixing, not before the instant it stands at
 * @source design MODEL §2, §6
 */
export function enterPiece(drive: FilmDrive, atS: number): void {
  const { job } = drive;
  drive.airIndex = indexAt(job.airC, drive.airIndex, atS);
  drive.airKPerS = slopePerS(job.airC, drive.airIndex);
  drive.airK = kelvinFromCelsius(valueNear(job.airC, drive.airIndex, { atS, max: Infinity }));
  drive.untilS = nextPointS(job.airC, drive.airIndex);
  drive.speedLogRatio = -Math.log(job.timeScale ?? 1);
  drive.speedLogPerS = 0;
  drive.lampWPerM2 = 0;
  if (drive.humidityEffectPer10Pct !== 0) enterHumidity(drive, atS);
  drive.speedRatio = Math.exp(drive.speedLogRatio);
  if (job.lampMinWPerM2 !== undefined) enterLamp(drive, job.lampMinWPerM2, atS);
}

function enterHumidity(drive: FilmDrive, atS: number): void {
  const { humidityPct } = drive.job;
  const perPct = -drive.humidityEffectPer10Pct / 10;
  drive.humidityIndex = indexAt(humidityPct, drive.humidityIndex, atS);
  const max = BATCH.saturatedHumidityPct;
  const nowPct = valueNear(humidityPct, drive.humidityIndex, { atS, max });
  drive.untilS = Math.min(drive.untilS, nextPointS(humidityPct, drive.humidityIndex));
  drive.speedLogRatio += perPct * (nowPct - BATCH.referenceHumidityPct);
  drive.speedLogPerS = perPct * slopePerS(humidityPct, drive.humidityIndex, max);
}

function enterLamp(
  drive: FilmDrive,
  spellsMinWPerM2: NonNullable<FilmJob['lampMinWPerM2']>,
  atS: number,
): void {
  for (const [fromMin, toMin, fluxWPerM2] of spellsMinWPerM2) {
    const fromS = secondsFromMinutes(fromMin);
    const toS = secondsFromMinutes(toMin);
    if (atS < fromS) drive.untilS = Math.min(drive.untilS, fromS);
    else if (atS < toS) {
      drive.untilS = Math.min(drive.untilS, toS);
      drive.lampWPerM2 += fluxWPerM2;
    }
  }
}

/**
 * Moves a drive along its piece.
 * @param drive  written in place
 * @param durationS  [s] not past the next breakpoint
 * @source straight pieces
 */
export function followPiece(drive: FilmDrive, durationS: number): void {
  drive.airK += drive.airKPerS * durationS;
  drive.speedLogRatio += drive.speedLogPerS * durationS;
}

/**
 * Speed of both reactions after a part of the piece [1].
 * @param drive  at the start of the part
 * @param afterS  [s] not past the next breakpoint
 * @returns speed [1], > 0
 * @source see enterPiece
 */
export function speedAfterRatio(drive: FilmDrive, afterS: number): number {
  if (drive.speedLogPerS === 0) return drive.speedRatio;
  return Math.exp(drive.speedLogRatio + drive.speedLogPerS * afterS);
}

/** The last point not after the instant; −1 before the first. */
function indexAt(seriesMin: Series, fromIndex: number, atS: number): number {
  let index = fromIndex;
  while (index + 1 < seriesMin.length && pointS(seriesMin, index + 1) <= atS) index++;
  return index;
}

function slopePerS(seriesMin: Series, index: number, max = Infinity): number {
  if (index < 0 || index + 1 >= seriesMin.length) return 0;
  const rise = pointValue(seriesMin, index + 1, max) - pointValue(seriesMin, index, max);
  return rise / (pointS(seriesMin, index + 1) - pointS(seriesMin, index));
}

function valueNear(seriesMin: Series, index: number, { atS, max }: { atS: number; max: number }): number {
  const near = Math.max(index, 0);
  const slope = slopePerS(seriesMin, index, max);
  return pointValue(seriesMin, near, max) + slope * (atS - pointS(seriesMin, near));
}

function nextPointS(seriesMin: Series, index: number): number {
  return index + 1 < seriesMin.length ? pointS(seriesMin, index + 1) : Infinity;
}

function pointS(seriesMin: Series, index: number): number {
  return secondsFromMinutes((seriesMin[index] as readonly [number, number])[0]);
}

function pointValue(seriesMin: Series, index: number, max: number): number {
  return Math.min(max, (seriesMin[index] as readonly [number, number])[1]);
}
