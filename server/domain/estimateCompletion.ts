// From a batch's facts and its bay's air to an estimate: a pure value, the same for the same inputs.
import type { Instant, NoteCode, Reason } from '../contract/index.ts';
import {
  type CardConstants,
  type CheckSeen,
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  MODEL_VERSION,
  solveBatch,
  splitReasons,
  type TestWindow,
} from '../engine/index.ts';
import { afterGums } from './afterGums.ts';
import { doubtAir, GAP_MAX_MIN } from './airDoubt.ts';
import { isFresh } from './airSeries.ts';
import type { BatchState } from './batch.ts';
import type { Card } from './card.ts';
import { type AirOfBays, FRESH_MAX_MIN, filmJobFrom } from './filmJob.ts';
import type { Estimate } from './facts.ts';
import { judgeBatch } from './judgeBatch.ts';
import type { LearnedProduct } from './learned.ts';
import { instantAfterOrNull, minutesBetween } from './minutes.ts';
import { uncertaintyOf } from './uncertainty.ts';

export interface EstimateInputs {
  readonly card: Card;
  readonly bays: AirOfBays;
  readonly nowAt: Instant;
  /** The shop's probability for "go and test", 0.6 … 0.95. */
  readonly testProbability: number;
  /** What closed batches taught of the product; null where only the card speaks. */
  readonly learned: LearnedProduct | null;
}

/** Estimates when a curing batch will be worth testing, from its own air. */
export function estimateCompletion(state: BatchState, inputs: EstimateInputs): Estimate {
  const film = filmJobFrom(state, inputs.bays, inputs.nowAt);
  if (film === null) return estimateWithoutAir(state, inputs);
  const { card, learned } = inputs;
  const product = productOf(card, learned);
  const median = solveBatch(product.card, product.constants, { ...film.job, timeScale: product.timeScale });
  const after = (durationMin: number | null): Instant | null =>
    instantAfterOrNull(state.mixedAt, durationMin);
  const doubt = doubtAir(
    { ...state, nowAt: inputs.nowAt, readyAt: after(median.testMin ?? HORIZON_MIN) as Instant },
    inputs.bays.airOf,
  );
  const window = estimateWindow({
    card,
    constants: card.constants,
    job: film.job,
    prior: { ...(learned?.belief ?? DEFAULT_WINDOW_PRIOR), film: uncertaintyOf(state, doubt) },
    checks: checksOf(state),
  });
  const split = splitReasons({
    card,
    constants: card.constants,
    job: { ...film.job, timeScale: product.timeScale },
    learned: product,
    medianMin: median.testMin,
  });
  const isSupported = isFresh(film.newestReading, inputs.nowAt, FRESH_MAX_MIN);
  const times = afterGums(windowTimes(window, { after, testProbability: inputs.testProbability }), state);
  return {
    modelVersion: MODEL_VERSION,
    learnedVersion: learned?.version ?? 0,
    computedAt: inputs.nowAt,
    supported: isSupported,
    spreadUntilAt: after(median.gelMin),
    kickedAt: after(median.gelMin),
    ...times,
    cardMin: split.cardMin,
    expectedMin: split.expectedMin,
    reasons: reasonsFrom(split.parts, { state, film }),
    notes: notesOf(state, {
      isSupported,
      hasGap: doubt.silentMaxMin > GAP_MAX_MIN,
      isStalled: times.testFromAt === null,
      isHumidityKnown: film.isHumidityKnown,
      judged: judgeBatch(state, { card, film, peakC: median.peakC }),
    }),
    airTemperatureC: film.newestReading?.measurement ?? null,
    airAt: film.newestReading?.at ?? null,
  };
}

/** A film that is not ready by then counts as stalled (design MODEL §1). */
const HORIZON_MIN = 720;

interface Product {
  readonly card: Card;
  readonly constants: CardConstants;
  readonly timeScale: number;
}

/** The product as it most probably is: the card's own where nothing was learned. */
function productOf(card: Card, learned: LearnedProduct | null): Product {
  if (learned === null) return { card, constants: card.constants, timeScale: 1 };
  const { belief, constants } = learned;
  const activationKJPerMol = belief.activationMeanKJPerMol;
  return { card: { ...card, activationKJPerMol }, constants, timeScale: Math.exp(belief.logTimeScale) };
}

function windowTimes(
  window: TestWindow,
  {
    after,
    testProbability,
  }: { after: (durationMin: number | null) => Instant | null; testProbability: number },
): Pick<Estimate, 'p10At' | 'p50At' | 'p90At' | 'buildP50At' | 'edgeP50At' | 'testFromAt'> {
  return {
    p10At: after(window.p10Min),
    p50At: after(window.p50Min),
    p90At: after(window.p90Min),
    buildP50At: after(window.buildP50Min),
    edgeP50At: after(window.edgeP50Min),
    testFromAt: after(window.quantileMin(testProbability)),
  };
}

function checksOf(state: BatchState): CheckSeen[] {
  return state.checks.map((check) => ({
    atMin: minutesBetween(state.mixedAt, check.at),
    outcome: check.outcome,
  }));
}

/** The largest first; what the air did also names the bay and its air. */
function reasonsFrom(
  parts: ReturnType<typeof splitReasons>['parts'],
  { state, film }: { state: BatchState; film: NonNullable<ReturnType<typeof filmJobFrom>> },
): Reason[] {
  return parts
    .toSorted((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes))
    .map((part) => {
      const minutes = Math.round(part.minutes * 10) / 10;
      if (part.code === 'bay-cold' || part.code === 'bay-warm') {
        return { code: part.code, minutes, bayId: state.bayId, airTemperatureC: film.airNowC };
      }
      if (part.code === 'car-cold' || part.code === 'car-warm') {
        return { code: part.code, minutes, panelTemperatureC: Math.round(film.panelStartC * 10) / 10 };
      }
      return { code: part.code, minutes };
    });
}

function notesOf(
  state: BatchState,
  known: {
    isSupported: boolean;
    hasGap: boolean;
    isStalled: boolean;
    isHumidityKnown: boolean;
    judged: readonly NoteCode[];
  },
): NoteCode[] {
  const notes: NoteCode[] = [...known.judged];
  if (!known.isSupported) notes.push('air-stale');
  else if (known.hasGap) notes.push('air-gap');
  if (known.isStalled) notes.push('stalled');
  if (!known.isHumidityKnown) notes.push('humidity-assumed');
  if (state.checks.some((check) => check.outcome === 'gums')) notes.push('gummed');
  return notes;
}

/** No reading, no time: the card's own minutes stand on the slip, marked as the tin's. */
function estimateWithoutAir(state: BatchState, { card, nowAt, learned }: EstimateInputs): Estimate {
  return {
    modelVersion: MODEL_VERSION,
    learnedVersion: learned?.version ?? 0,
    computedAt: nowAt,
    supported: false,
    spreadUntilAt: null,
    kickedAt: null,
    p10At: null,
    p50At: null,
    p90At: null,
    buildP50At: null,
    edgeP50At: null,
    testFromAt: null,
    cardMin: null,
    expectedMin: null,
    reasons: [],
    notes: ['no-air', ...judgeBatch(state, { card, film: null, peakC: null })],
    airTemperatureC: null,
    airAt: null,
  };
}
