// What the shop has learned of a product: its lessons, folded from facts, and the belief that follows from them.
import type { Instant } from '../contract/index.ts';
import {
  type CardConstants,
  type LessonBranch,
  learnProduct,
  type ProductBelief,
  recalibrate,
  type ScaleLesson,
  solveFilm,
} from '../engine/index.ts';
import type { Card } from './card.ts';
import type { BatchId, Fact, Lesson, LessonSeen } from './facts.ts';
import { minutesBetween } from './minutes.ts';

/** A lesson with whose it is. */
export interface KeptLesson extends Lesson {
  readonly batchId: BatchId;
  readonly at: Instant;
}

/** All that closed batches of a product showed, the newest last. */
export interface ProductLessons {
  readonly cardId: string;
  /** Counts every change, so that an estimate can say what it knew. */
  readonly version: number;
  readonly lessons: readonly KeptLesson[];
}

/** What windows start from; derived from the lessons and the card alone. */
export interface LearnedProduct {
  readonly cardId: string;
  readonly version: number;
  /** How many batches it rests on. */
  readonly batchCount: number;
  /** Constants that meet the card at the activation energy that is believed now. */
  readonly constants: CardConstants;
  readonly belief: ProductBelief;
  readonly told: ProductTold;
}

/** A belief as people say it: the card's own film, with what the shop has learned. */
export interface ProductTold {
  /** Null where it would never be sandable. */
  readonly sandMin: number | null;
  /** So much colder, and it takes twice as long; null where it would stall there. */
  readonly doublingK: number | null;
}

/** Older lessons of a product are dropped: they have faded to little, and a belief must be quick to find. */
const LESSONS_COUNT_MAX = 200;
/** Half of a lesson's weight is gone after so long (chosen, design MODEL §5). */
const HALF_LIFE_MIN = 90 * 24 * 60;

/** The lessons after one more fact of any kind; the same object when it changes nothing. */
export function foldLessons(product: ProductLessons, fact: Fact): ProductLessons {
  const lessons = lessonsAfter(product, fact);
  if (lessons === product.lessons) return product;
  return { ...product, version: product.version + 1, lessons: lessons.slice(-LESSONS_COUNT_MAX) };
}

/** No lessons yet. */
export function noLessons(cardId: string): ProductLessons {
  return { cardId, version: 0, lessons: [] };
}

function lessonsAfter({ cardId, lessons }: ProductLessons, fact: Fact): readonly KeptLesson[] {
  if (fact.type === 'LessonTaken') {
    if (fact.body.cardId !== cardId) return lessons;
    return [...lessons, { ...fact.body, batchId: fact.batchId as BatchId, at: fact.at }];
  }
  if (fact.type !== 'FactUndone') return lessons;
  const { factSequence } = fact.body;
  const kept = lessons.filter(({ closingSequence }) => closingSequence !== factSequence);
  return kept.length === lessons.length ? lessons : kept;
}

/** What is believed of a product; a card whose constants have changed since begins anew. */
export function learnedFrom({ cardId, version, lessons }: ProductLessons, card: Card): LearnedProduct {
  const own = lessons.filter((lesson) => isOfCard(lesson, card));
  const teaching = own.filter(({ seen }) => seen !== null);
  const isTelling = tellsFirstTries(teaching);
  const newestAt = teaching.at(-1)?.at ?? (0 as Instant);
  const belief = learnProduct(
    card,
    teaching.map(({ seen, at }): ScaleLesson => {
      const { withinLogSd } = seen as LessonSeen;
      const weight = 0.5 ** (Math.max(0, minutesBetween(at, newestAt)) / HALF_LIFE_MIN);
      return { weight, withinLogSd, branches: branchesOf(seen as LessonSeen, isTelling) };
    }),
  );
  const { activationMeanKJPerMol } = belief;
  const constants = recalibrate({ ...card, activationKJPerMol: activationMeanKJPerMol }) ?? card.constants;
  const batchCount = teaching.length - belief.fromIndex;
  return { cardId, version, batchCount, constants, belief, told: tellProduct(card, { belief, constants }) };
}

/** Over so much colder air the doubling is read off. */
const COLDER_K = 10;

function tellProduct(
  card: Card,
  { belief, constants }: { belief: ProductBelief; constants: CardConstants },
): ProductTold {
  const learned = { ...card, activationKJPerMol: belief.activationMeanKJPerMol };
  const sandMinAt = (atC: number): number | null =>
    solveFilm(learned, constants, {
      substrate: 'steel',
      thicknessMm: card.thicknessMm,
      hardenerPct: card.hardenerPct,
      airC: [[0, atC]],
      humidityPct: [[0, REFERENCE_HUMIDITY_PCT]],
      timeScale: Math.exp(belief.logTimeScale),
    }).sandMin;
  const sandMin = sandMinAt(card.atC);
  const colderMin = sandMinAt(card.atC - COLDER_K);
  const doublingK =
    sandMin === null || colderMin === null ? null : (COLDER_K * Math.LN2) / Math.log(colderMin / sandMin);
  return { sandMin, doublingK };
}

/** Cards are stated at it (design MODEL §4). */
const REFERENCE_HUMIDITY_PCT = 50;

/** A recalibration in a newer version moves constants by less than this; an edited card by more. */
const SAME_CONSTANTS_RATIO = 0.002;

function isOfCard({ constants }: Lesson, card: Card): boolean {
  const isSame = (left: number, right: number): boolean =>
    Math.abs(left - right) <= SAME_CONSTANTS_RATIO * Math.abs(right);
  return (
    isSame(constants.inductionS, card.constants.inductionS) &&
    isSame(constants.rateConstantPerS, card.constants.rateConstantPerS)
  );
}

/** A shop that often says "first try" means something when it does not. */
const TOLD_LEAST_SHARE = 0.2;
/** Even there an unsaid first try is at times a first try. */
const UNSAID_FIRST_TRY_SHARE = 0.25;

function tellsFirstTries(lessons: readonly KeptLesson[]): boolean {
  const clean = lessons.filter(({ seen }) => seen !== null && seen.gumsLogScales === null);
  const told = clean.filter(({ seen }) => seen?.firstTry === true);
  return clean.length > 0 && told.length / clean.length >= TOLD_LEAST_SHARE;
}

/**
 * What may have happened: with "gums" the true scale lies between it and the check, at the first try before the check,
 * with neither between the alert and the check, since somebody forgot to say that it gummed. Where first tries are
 * never told, silence tells nothing but that it powdered in the end.
 */
function branchesOf(seen: LessonSeen, isTelling: boolean): LessonBranch[] {
  const before = (lowLogScales: readonly number[] | null, share: number): LessonBranch => ({
    share,
    lowLogScales,
    highLogScales: seen.checkLogScales,
  });
  if (seen.gumsLogScales !== null) return [before(seen.gumsLogScales, 1)];
  if (seen.firstTry === true || seen.alertLogScales === null) return [before(null, 1)];
  if (seen.firstTry === false) return [before(seen.alertLogScales, 1)];
  if (!isTelling) return [before(null, 1)];
  return [before(null, UNSAID_FIRST_TRY_SHARE), before(seen.alertLogScales, 1 - UNSAID_FIRST_TRY_SHARE)];
}
