// What nobody measures of one batch: how far it moves the time at which the batch is worth testing, and how far it warms it.
import type { CardConstants, CardStatement, FilmJob, Series } from './cardStatement.ts';
import { BATCH, KINETICS } from './constants.ts';
import { solveBatch } from './solveBatch.ts';

/**
 * Standard deviations within one batch, beside its scatter; none of them is learned.
 */
export interface FilmUncertainty {
  /** Of ln hardener: 0.10 by bead, 0.03 weighed. */
  readonly hardenerLogSd: number;
  /** Of ln thickness. */
  readonly thicknessLogSd: number;
  /** Of panel, cavity and air against the reading, persistent through the batch. */
  readonly bayOffsetSdK: number;
  readonly heatSdJPerKg: number;
  /** Of what humidity does to the pace, for each 10 %RH. */
  readonly humidityEffectSd: number;
  /** Of ln flux. */
  readonly lampLogSd: number;
}

/**
 * The uncertainty of a batch dosed by bead, under a lamp known by one reading (lamp chosen, the rest design MODEL §5).
 */
export const BEAD_UNCERTAINTY: FilmUncertainty = {
  hardenerLogSd: 0.1,
  thicknessLogSd: 0.15,
  bayOffsetSdK: 0.7,
  heatSdJPerKg: 12_000,
  humidityEffectSd: 0.01,
  lampLogSd: 0.1,
};

/**
 * A film with its own heat of cure.
 */
export interface MovedFilm {
  readonly job: FilmJob;
  readonly heatJPerKg: number;
}

/**
 * What probing a film by one standard deviation at a time finds.
 */
export interface FilmProbe {
  /** Of ln test time, from everything together. */
  readonly logSd: number;
  /** The same without what lies along the direction in which the film grows warm. */
  readonly restLogSd: number;
  /** Hottest instant of the median film, and its standard deviation. */
  readonly peakC: number;
  readonly peakSdK: number;
  /** The film with all that warms it moved together by some standard deviations. */
  readonly warmed: (z: number) => MovedFilm;
}

interface Question {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
}

/** How far each uncertain thing is moved, in standard deviations. */
type Offsets = readonly number[];

/** How many things are uncertain: hardener, thickness, bay, heat, humidity, lamp; in this order. */
const THINGS_COUNT = 6;

/**
 * Probes what is not measured of a batch.
 * σ² = Σ ((ln T(θ + sd) − ln T(θ − sd)) / 2)², build and edge sharing each change; warmth: the gradient of the
 * peak temperature over all of them, or of ln T itself where cooling decides
 * @param question  product, constants and job, judged before
 * @param uncertainty  standard deviations, ≥ 0
 * @returns standard deviations, and the film along its warmth; where one side never is ready the other speaks for both
 * @source own: linearisation about the median film, design MODEL §5
 */
export function probeFilm(question: Question, uncertainty: FilmUncertainty): FilmProbe {
  const median = solveMoved(question, moveFilm(question.job, uncertainty, []));
  const dampSd = uncertainty.humidityEffectSd * (meanHumidityOffPct(question.job, median.testMin) / 10);
  const move = (offsets: Offsets): MovedFilm => moveFilm(question.job, { ...uncertainty, dampSd }, offsets);
  const hasLamp = (question.job.lampMinWPerM2 ?? []).length > 0;
  const isIdle = [false, false, false, false, Math.abs(dampSd) < DAMP_LEAST_SD, !hasLamp];
  const halves = Array.from({ length: THINGS_COUNT }, (_, thing) => {
    if (isIdle[thing] === true) return { timeLog: 0, peakK: 0 };
    const [low, high] = [-1, 1].map((z) => solveMoved(question, move(onlyOffset(thing, z)))) as [
      Moved,
      Moved,
    ];
    return {
      timeLog: halfLog(low.testMin, median.testMin, high.testMin),
      peakK: (high.peakC - low.peakC) / 2,
    };
  });
  const logSd = Math.hypot(...halves.map(({ timeLog }) => timeLog));
  const peakSdK = Math.hypot(...halves.map(({ peakK }) => peakK));
  // Where cooling decides already, what delays it is what counts; else what would make the film hot.
  const direction = halves.map(({ timeLog, peakK }) =>
    median.isCooling ? partOf(timeLog, logSd) : partOf(peakK, peakSdK),
  );
  const along = halves.reduce((sum, { timeLog }, thing) => sum + timeLog * (direction[thing] as number), 0);
  return {
    logSd,
    restLogSd: Math.sqrt(Math.max(0, logSd ** 2 - along ** 2)),
    peakC: median.peakC,
    peakSdK,
    warmed: (z) => move(direction.map((part) => part * z)),
  };
}

interface Moved {
  readonly testMin: number | null;
  readonly peakC: number;
  readonly isCooling: boolean;
}

function solveMoved({ card, constants }: Question, { job, heatJPerKg }: MovedFilm): Moved {
  const { testMin, peakC, governedBy } = solveBatch(card, constants, job, { heatJPerKg });
  return { testMin, peakC, isCooling: governedBy === 'cooling' };
}

function partOf(halfRatio: number, wholeRatio: number): number {
  return wholeRatio === 0 ? 0 : halfRatio / wholeRatio;
}

/** The film with each uncertain thing moved by its offset, in standard deviations; missing offsets move nothing. */
function moveFilm(
  job: FilmJob,
  { dampSd = 0, ...sd }: FilmUncertainty & { readonly dampSd?: number },
  [hardenerZ = 0, thicknessZ = 0, bayZ = 0, heatZ = 0, humidityZ = 0, lampZ = 0]: Offsets,
): MovedFilm {
  return {
    job: {
      ...job,
      ...(bayZ === 0 ? {} : shiftBay(job, bayZ * sd.bayOffsetSdK)),
      ...(lampZ === 0 ? {} : brighten(job, Math.exp(lampZ * sd.lampLogSd))),
      hardenerPct: job.hardenerPct * Math.exp(hardenerZ * sd.hardenerLogSd),
      thicknessMm: job.thicknessMm * Math.exp(thicknessZ * sd.thicknessLogSd),
      timeScale: (job.timeScale ?? 1) * Math.exp(humidityZ * dampSd),
    },
    heatJPerKg: Math.max(0, KINETICS.heatJPerKg + heatZ * sd.heatSdJPerKg),
  };
}

function onlyOffset(thingIndex: number, z: number): Offsets {
  return Array.from({ length: THINGS_COUNT }, (_, index) => (index === thingIndex ? z : 0));
}

function halfLog(lowMin: number | null, medianMin: number | null, highMin: number | null): number {
  const low = lowMin ?? medianMin;
  const high = highMin ?? medianMin;
  if (low === null || high === null) return 0;
  const sidesCount = Number(lowMin !== null) + Number(highMin !== null);
  return Math.log(high / low) / Math.max(1, sidesCount);
}

function shiftBay({ airC, cavityStartC, panelStartC }: FilmJob, byK: number): Partial<FilmJob> {
  return {
    airC: airC.map(([atMin, value]) => [atMin, value + byK] as const) satisfies Series,
    ...(cavityStartC === undefined ? {} : { cavityStartC: cavityStartC + byK }),
    ...(panelStartC === undefined ? {} : { panelStartC: panelStartC + byK }),
  };
}

function brighten({ lampMinWPerM2 = [] }: FilmJob, ratio: number): Partial<FilmJob> {
  return { lampMinWPerM2: lampMinWPerM2.map(([from, to, flux]) => [from, to, flux * ratio] as const) };
}

/** How far the humidity until a batch is ready lies from that of the cards [%], in the mean. */
function meanHumidityOffPct({ humidityPct }: FilmJob, untilMin: number | null): number {
  const endMin = untilMin ?? BATCH.horizonMin;
  let sumPct = 0;
  for (let step = 0; step < HUMIDITY_STEPS_COUNT; step++) {
    const atMin = (endMin * (step + 0.5)) / HUMIDITY_STEPS_COUNT;
    sumPct += Math.min(valueAt(humidityPct, atMin), BATCH.saturatedHumidityPct);
  }
  return sumPct / HUMIDITY_STEPS_COUNT - BATCH.referenceHumidityPct;
}

function valueAt(humidityPct: Series, atMin: number): number {
  const after = humidityPct.findIndex(([pointMin]) => pointMin >= atMin);
  const [rightMin, right] = humidityPct[after === -1 ? humidityPct.length - 1 : after] as readonly [
    number,
    number,
  ];
  const left = humidityPct[after - 1];
  if (after < 1 || left === undefined || rightMin === left[0]) return right;
  return left[1] + ((atMin - left[0]) / (rightMin - left[0])) * (right - left[1]);
}

/** A humidity that matters less than this is not worth two films. */
const DAMP_LEAST_SD = 0.002;
const HUMIDITY_STEPS_COUNT = 12;
