// Why a batch takes longer or shorter than its card says: one change after the other, each with its minutes.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { BATCH } from './constants.ts';
import { solveBatch } from './solveBatch.ts';

/**
 * What a batch's minutes are owed to.
 */
export type ReasonCode =
  'film' | 'edge' | 'hardener' | 'bay-cold' | 'bay-warm' | 'car-cold' | 'car-warm' | 'lamp' | 'product';

/**
 * One reason and its minutes, negative when it helps.
 */
export interface ReasonPart {
  readonly code: ReasonCode;
  readonly minutes: number;
}

/**
 * From the card's minutes to the batch's, in parts that add up.
 */
export interface ReasonSplit {
  /** The card's own statement. */
  readonly baseMin: number;
  /** The batch's median time; null when it stalls. */
  readonly expectedMin: number | null;
  /** The same film, hardener and panel with everything at the card's temperature; what slowdown is measured by; at most 12 h. */
  readonly cardMin: number;
  readonly parts: ReasonPart[];
}

/**
 * What is to be explained: the card as stated, and the product as learned where it is another.
 */
export interface ReasonQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly learned?: { readonly card: CardStatement; readonly constants: CardConstants };
  /** The batch's median time where it is known already [min]; null when it stalls. */
  readonly medianMin?: number | null;
}

/** Reasons smaller than this are not worth a word. */
const WORTH_MIN = 0.05;

/**
 * Splits a batch's minutes into reasons [min].
 * One thing after the other takes the job's place in the card's own film: thickness and panel, edge, hardener, the
 * bay's air, the car, the lamp, the product's time scale; each part is what that step changed. A step at which the
 * batch would stall is counted together with the next.
 * @param question  product, constants and job, judged before; the last step also takes the learned constants
 * @returns parts that add up to expectedMin − baseMin whenever there is an expectedMin
 * @source own: sequential substitution; order from what a person can change least to what most
 */
export function splitReasons(question: ReasonQuestion): ReasonSplit {
  const { card, constants, job, learned = { card, constants } } = question;
  const { film, hardener, bay, car, lamp, product } = variantsOf(card, job);
  const testMinOf = (variant: FilmJob): number | null => solveBatch(card, constants, variant).testMin;
  const learnedMinOf = (variant: FilmJob): number | null =>
    solveBatch(learned.card, learned.constants, variant).testMin;
  const isAsStated = isSameProduct(learned, question) && (job.timeScale ?? 1) === 1;
  // What nothing was changed about is not solved again.
  const filmBatch = solveBatch(card, constants, film);
  const hardenerMin = hardener.hardenerPct === film.hardenerPct ? filmBatch.testMin : testMinOf(hardener);
  const lastMin = question.medianMin === undefined ? learnedMinOf(product) : question.medianMin;
  const lampMin = isAsStated ? lastMin : testMinOf(lamp);
  const carMin = (job.lampMinWPerM2 ?? []).length === 0 ? lampMin : testMinOf(car);
  const steps: Step[] = [
    { codes: ['film', 'film'], atMin: filmBatch.coolMin },
    { codes: ['edge', 'edge'], atMin: filmBatch.testMin },
    { codes: ['hardener', 'hardener'], atMin: hardenerMin },
    { codes: ['bay-cold', 'bay-warm'], atMin: testMinOf(bay) },
    { codes: ['car-cold', 'car-warm'], atMin: carMin },
    { codes: ['lamp', 'lamp'], atMin: lampMin },
    { codes: ['product', 'product'], atMin: lastMin },
  ];
  const cardMin = isAsStated
    ? hardenerMin
    : learnedMinOf({ ...hardener, ...(job.timeScale === undefined ? {} : { timeScale: job.timeScale }) });
  return {
    baseMin: card.sandMin,
    expectedMin: lastMin,
    cardMin: cardMin ?? BATCH.horizonMin,
    parts: gatherSmall(partsOf(card.sandMin, steps)),
  };
}

function isSameProduct(
  learned: NonNullable<ReasonQuestion['learned']>,
  { card, constants }: ReasonQuestion,
): boolean {
  return (
    learned.card.activationKJPerMol === card.activationKJPerMol &&
    learned.constants.inductionS === constants.inductionS &&
    learned.constants.rateConstantPerS === constants.rateConstantPerS
  );
}

/** One step of the substitution: its code when it slows and when it hastens, and the time after it. */
interface Step {
  readonly codes: readonly [slower: ReasonCode, faster: ReasonCode];
  readonly atMin: number | null;
}

type StepName = 'film' | 'hardener' | 'bay' | 'car' | 'lamp' | 'product';

/** Each variant has what the one before it has, and one thing more of the job. */
function variantsOf(card: CardStatement, job: FilmJob): Record<StepName, FilmJob> {
  const { cavityStartC, panelStartC, mixC, lampMinWPerM2, timeScale } = job;
  const film: FilmJob = {
    substrate: job.substrate,
    thicknessMm: job.thicknessMm,
    underlayMm: job.underlayMm ?? 0,
    hardenerPct: card.hardenerPct,
    airC: [[0, card.atC]],
    humidityPct: [[0, BATCH.referenceHumidityPct]],
  };
  const hardener = { ...film, hardenerPct: job.hardenerPct };
  const bay = {
    ...hardener,
    airC: job.airC,
    humidityPct: job.humidityPct,
    movingAir: job.movingAir === true,
  };
  const car = {
    ...bay,
    ...(cavityStartC === undefined ? {} : { cavityStartC }),
    ...(panelStartC === undefined ? {} : { panelStartC }),
    ...(mixC === undefined ? {} : { mixC }),
  };
  const lamp = { ...car, ...(lampMinWPerM2 === undefined ? {} : { lampMinWPerM2 }) };
  const product = { ...lamp, ...(timeScale === undefined ? {} : { timeScale }) };
  return { film, hardener, bay, car, lamp, product };
}

function partsOf(baseMin: number, steps: readonly Step[]): ReasonPart[] {
  const parts: ReasonPart[] = [];
  let beforeMin = baseMin;
  for (const { codes, atMin } of steps) {
    if (atMin === null) continue;
    const minutes = atMin - beforeMin;
    parts.push({ code: minutes > 0 ? codes[0] : codes[1], minutes });
    beforeMin = atMin;
  }
  return parts;
}

/** Leaves out what is not worth a word and gives its minutes to the largest part. */
function gatherSmall(parts: readonly ReasonPart[]): ReasonPart[] {
  const largest = parts.reduce<ReasonPart | null>(
    (most, part) => (most === null || Math.abs(part.minutes) > Math.abs(most.minutes) ? part : most),
    null,
  );
  const isSmall = (part: ReasonPart): boolean => part !== largest && Math.abs(part.minutes) < WORTH_MIN;
  const restMin = parts.filter(isSmall).reduce((sum, { minutes }) => sum + minutes, 0);
  return parts
    .filter((part) => !isSmall(part))
    .map((part) => (part === largest ? { ...part, minutes: part.minutes + restMin } : part));
}
