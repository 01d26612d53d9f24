// From what a tin says to the two constants of its chemistry.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { BATCH, KINETICS } from './constants.ts';
import { invariant } from './invariant.ts';
import { judgeCard } from './judgeCard.ts';
import type { Rejection } from './judgeRange.ts';
import { progressFromConversion } from './kinetics.ts';
import { type FilmSolution, solveFilm } from './solveFilm.ts';
import { secondsFromMinutes } from './units.ts';

/**
 * Constants of a card, or why there are none.
 */
export type CardCalibration =
  | { readonly kind: 'calibrated'; readonly constants: CardConstants }
  | { readonly kind: 'rejected'; readonly rejections: Rejection[] };

/** How a fit is made: how exactly films are solved, and how near their instants must come. */
interface Fit {
  readonly tolerance: number;
  readonly instantTolerance: number;
}

const EXACT: Fit = { tolerance: 1e-5, instantTolerance: 1e-5 };
const QUICK: Fit = { tolerance: 2e-4, instantTolerance: 5e-4 };
const FILMS_COUNT_MAX = 16;
/** An induction shorter than this part of the working time is none. */
const INDUCTION_MIN_FRACTION = 1e-3;
const BETWEEN_ENDS_RATIO = 0.6;
/** How much ln k moves at most in one go. */
const MOVE_MAX_RATIO = 1.5;
/** By how much ln of the hardening time falls for each unit of ln k, at first: self-heating makes it more than 1. */
const FIRST_LEAN_RATIO = -1.2;

/**
 * Finds the induction time and the rate constant with which a film reproduces its card.
 * One film of the card's thickness on steel in still air of 50 %RH, everything starting at the card's temperature:
 * gel = working time, sandable = sanding time. Both constants hold at the card's temperature (T_ref = card).
 * @param card  the statement; judged here
 * @returns constants, or rejections when a field is out of bounds or no constants fit
 * @source design MODEL §4; T_ref follows from the reference calibrations
 */
export function calibrateCard(card: CardStatement): CardCalibration {
  const rejections = judgeCard(card);
  if (rejections.length === 0 && card.workingMin >= card.sandMin) {
    rejections.push({
      path: 'workingMin',
      reason: `is ${card.workingMin} min, not below the sanding time of ${card.sandMin} min`,
      allowed: `below ${card.sandMin} min`,
    });
  }
  if (rejections.length > 0) return { kind: 'rejected', rejections };
  const constants = fitConstants(card, EXACT);
  if (constants !== null) return { kind: 'calibrated', constants };
  return { kind: 'rejected', rejections: [rejectUnfit(card)] };
}

/**
 * The same fit to a few parts in ten thousand, for the members of a window.
 * @param card  a card that calibrates, with another activation energy
 * @returns constants, or null when none fit
 * @source see calibrateCard
 */
export function recalibrate(card: CardStatement): CardConstants | null {
  const key = keyOf(card);
  const known = quickFits.get(key);
  if (known !== undefined) return known;
  const constants = fitConstants(card, QUICK);
  if (quickFits.size >= QUICK_FITS_COUNT_MAX) quickFits.clear();
  quickFits.set(key, constants);
  return constants;
}

/** The windows of one product ask for the same few cards again and again; a fit costs as much as four films. */
const quickFits = new Map<string, CardConstants | null>();
const QUICK_FITS_COUNT_MAX = 256;

/** Everything that a fit depends on. */
function keyOf(card: CardStatement): string {
  const { fill, atC, thicknessMm, hardenerPct, workingMin, sandMin } = card;
  const { activationKJPerMol, inductionActivationKJPerMol } = card;
  const stated = [atC, thicknessMm, hardenerPct, workingMin, sandMin];
  return [fill, ...stated, activationKJPerMol, inductionActivationKJPerMol].join(' ');
}

/** A card that no constants fit lies at one of two ends: far below that ratio, or just below its sanding time. */
function rejectUnfit({ workingMin, sandMin }: CardStatement): Rejection {
  const path = 'workingMin';
  if (workingMin / sandMin > BETWEEN_ENDS_RATIO) {
    return {
      path,
      reason: `is ${workingMin} min, too close to a sanding time of ${sandMin} min: the mix would have to harden at once`,
      allowed: 'a working time that leaves time to harden, at most 0.97 of the sanding time',
    };
  }
  return {
    path,
    reason: `is ${workingMin} min, too short for a sanding time of ${sandMin} min: the mix would have to gel faster than it hardens`,
    allowed: 'a working time that leaves an induction, usually over a tenth of the sanding time',
  };
}

/**
 * The time from gel to sandable falls with k and hardly knows t_ind: a safeguarded secant finds ln k, while t_ind
 * takes what the working time leaves.
 */
function fitConstants(card: CardStatement, fit: Fit): CardConstants | null {
  const plainCard = { ...card, humidityEffectPer10Pct: 0 };
  const job = cardJob(card);
  const workingS = secondsFromMinutes(card.workingMin);
  const hardeningS = secondsFromMinutes(card.sandMin) - workingS;
  let constants = firstGuess(workingS, hardeningS);
  let lean = FIRST_LEAN_RATIO;
  let beforeLog = 0;
  let beforeMiss = 0;
  for (let film = 0; film < FILMS_COUNT_MAX; film++) {
    const { gelS, sandS } = instantsOf(solveFilm(plainCard, constants, job, { tolerance: fit.tolerance }));
    const gelMiss = Math.log(gelS / workingS);
    const miss = Math.log((sandS - gelS) / hardeningS);
    if (Math.abs(gelMiss) < fit.instantTolerance && Math.abs(miss) < fit.instantTolerance) return constants;
    const log = Math.log(constants.rateConstantPerS);
    if (film > 0 && Math.abs(log - beforeLog) > fit.instantTolerance) {
      lean = Math.min(-0.7, Math.max(-5, (miss - beforeMiss) / (log - beforeLog)));
    }
    beforeLog = log;
    beforeMiss = miss;
    const move = Math.min(MOVE_MAX_RATIO, Math.max(-MOVE_MAX_RATIO, -miss / lean));
    const leftS = workingS - (gelS - constants.inductionS) * Math.exp(-move);
    constants = {
      inductionS: Math.max(leftS, workingS * INDUCTION_MIN_FRACTION),
      rateConstantPerS: constants.rateConstantPerS * Math.exp(move),
    };
  }
  return null;
}

function cardJob(card: CardStatement): FilmJob {
  return {
    substrate: 'steel',
    thicknessMm: card.thicknessMm,
    hardenerPct: card.hardenerPct,
    airC: [[0, card.atC]],
    humidityPct: [[0, BATCH.referenceHumidityPct]],
  };
}

/** As if the film stayed at the card's temperature and never turned to glass: u grows by k / 2. */
function firstGuess(workingS: number, hardeningS: number): CardConstants {
  const gel = progressFromConversion(KINETICS.gelConversion);
  const hardening = progressFromConversion(KINETICS.sandableConversion) - gel;
  const rateConstantPerS = (2 * hardening) / hardeningS;
  const leftS = workingS - (2 * gel) / rateConstantPerS;
  return { rateConstantPerS, inductionS: Math.max(leftS, workingS * 0.1) };
}

/** A film that does not become sandable within the horizon counts as late by all of it: the fit moves on. */
function instantsOf({ gelMin, sandMin }: FilmSolution): { gelS: number; sandS: number } {
  invariant(gelMin !== null, 'a film whose constants leave it its working time gels');
  return {
    gelS: secondsFromMinutes(gelMin),
    sandS: secondsFromMinutes(sandMin ?? gelMin + BATCH.horizonMin),
  };
}
