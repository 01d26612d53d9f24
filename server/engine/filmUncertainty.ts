// What nobody measures of one batch: how far it moves the time at which the batch is worth testing, and how far it warms it.
import type { CardConstants, CardStatement, FilmJob, Series } from './cardStatement.ts';
import { BATCH, KINETICS } from './constants.ts';
import { MEMBER_TOLERANCE } from './marchFilm.ts';
import { edgeJob } from './solveBatch.ts';
import { solveFilm } from './solveFilm.ts';
import { type FilmEffect, splitWarmth } from './splitWarmth.ts';

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
 * The uncertainty of a batch dosed by bead (design MODEL §5), under a lamp known by one reading of a panel: 1 K of 30 (chosen).
 */
export const BEAD_UNCERTAINTY: FilmUncertainty = {
  hardenerLogSd: 0.1,
  thicknessLogSd: 0.15,
  bayOffsetSdK: 0.7,
  heatSdJPerKg: 12_000,
  humidityEffectSd: 0.01,
  lampLogSd: 0.03,
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
  /** Hottest instant of the median film until it is sandable or a lamp near that goes out, and its standard deviation. */
  readonly peakC: number;
  readonly peakSdK: number;
  /** Asks for the direction in which the film grows warm, at the cost of two more batches. */
  readonly findWarmth: () => FilmWarmth;
}

/**
 * What is not measured of a batch, told as two things: how warm it is, and a time scale.
 */
export interface FilmWarmth {
  /** The film moved along the direction that matters most, and along a second one, by some standard deviations. */
  readonly warmed: (z: number, secondZ?: number) => MovedFilm;
  /** Of ln time scale, for what of it delays the film without warming it. */
  readonly restLogSd: number;
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
 * σ² = Σ (d ln T/dθ · sd)², build and edge sharing each change; by central differences for the hardener, to one side
 * for the others
 * @param question  product, constants and job, judged before
 * @param uncertainty  standard deviations, ≥ 0
 * @returns standard deviations, and the film along its warmth; where one side never is ready the other speaks for both
 * @source own: linearisation about the median film, design MODEL §5
 */
export function probeFilm(question: Question, uncertainty: FilmUncertainty): FilmProbe {
  const { job } = question;
  const plain = solveMoved(question, moveFilm(job, uncertainty, []), []);
  const sampleAtMin = instantsOf(job, plain);
  const solve = (film: MovedFilm): Moved => solveMoved(question, film, sampleAtMin);
  const dampSd = uncertainty.humidityEffectSd * (meanHumidityOffPct(job, plain.testMin) / 10);
  const move = (offsets: Offsets): ScaledFilm => moveFilm(job, { ...uncertainty, dampSd }, offsets);
  const moved = (thing: number, z: number): Moved => solve(move(onlyOffset(thing, z)));
  const hardener = [moved(0, -1), moved(0, 1)] as const;
  const median = { ...plain, ...middleHeat(hardener) };
  const hasLamp = (job.lampMinWPerM2 ?? []).length > 0;
  const isIdle = [false, false, false, false, Math.abs(dampSd) < DAMP_LEAST_SD, !hasLamp];
  const halves = isIdle.map((isStill, thing): Half => {
    if (isStill) return halfOf([median, median], median);
    if (thing === 0) return halfOf(hardener, median);
    const high = moved(thing, NEAR_Z);
    // A film that stalls on this side tells nothing of how fast it is: the other side does.
    const sides =
      high.testMin === null ? ([moved(thing, -NEAR_Z), median] as const) : ([median, high] as const);
    return grown(halfOf(sides, median), 2 / NEAR_Z);
  });
  return {
    logSd: Math.hypot(...halves.map(({ testLogRatio }) => testLogRatio)),
    peakC: median.peakC,
    peakSdK: Math.hypot(...halves.map(({ peakK }) => peakK)),
    findWarmth: () => {
      const scale = [-1, 1].map((z) => {
        const film = move([]);
        const timeScale = film.job.timeScale * Math.exp(z * SCALE_STEP_RATIO);
        return solve({ ...film, job: { ...film.job, timeScale } });
      }) as [Moved, Moved];
      const { firstWeights, secondWeights, restRatio } = splitWarmth(halves, halfOf(scale, median));
      return {
        restLogSd: restRatio * SCALE_STEP_RATIO,
        warmed: (z, secondZ = 0) =>
          move(firstWeights.map((part, i) => part * z + (secondWeights[i] as number) * secondZ)),
      };
    },
  };
}

interface Moved {
  readonly testMin: number | null;
  readonly buildSandMin: number | null;
  readonly edgeSandMin: number | null;
  readonly sandMin: number | null;
  readonly peakC: number;
  /** Peaks of build and edge, and the build at the instants sampled. */
  readonly heatsC: readonly number[];
}

/** A film moved to either side. */
type Pair = readonly [Moved, Moved];

/** Half of what a film does between both. */
interface Half extends FilmEffect {
  readonly testLogRatio: number;
  readonly peakK: number;
}

function halfOf([low, high]: Pair, median: Moved): Half {
  const sands = (['buildSandMin', 'edgeSandMin'] as const).map(
    (which) => halfLog(low[which], median[which], high[which]) / SAND_MATTERS_RATIO,
  );
  const heats = median.heatsC.map((medianC, index) => {
    const halfK = ((high.heatsC[index] as number) - (low.heatsC[index] as number)) / 2;
    return halfK / HEAT_MATTERS_K / (1 + ((medianC - BATCH.coolC) / HALF_HEAT_K) ** 2);
  });
  return {
    testLogRatio: halfLog(low.testMin, median.testMin, high.testMin),
    sandLogRatio: halfLog(low.sandMin, median.sandMin, high.sandMin),
    peakK: (high.peakC - low.peakC) / 2,
    traitValues: [...sands, ...heats],
  };
}

function grown({ testLogRatio, sandLogRatio, peakK, traitValues }: Half, ratio: number): Half {
  return {
    testLogRatio: testLogRatio * ratio,
    sandLogRatio: sandLogRatio * ratio,
    peakK: peakK * ratio,
    traitValues: traitValues.map((value) => value * ratio),
  };
}

/** The heat of the median film at the instants sampled lies between that of its neighbours. */
function middleHeat([low, high]: Pair): Pick<Moved, 'peakC' | 'heatsC'> {
  const heatsC = low.heatsC.map((lowC, index) => (lowC + (high.heatsC[index] as number)) / 2);
  return { heatsC, peakC: Math.max(...heatsC) };
}

/** Instants at which the heat of a film may tell when it is ready; none for one that is far from hot. */
function instantsOf(job: FilmJob, { buildSandMin, testMin, peakC }: Moved): number[] {
  const lamps = job.lampMinWPerM2 ?? [];
  if (buildSandMin === null || testMin === null) return [];
  if (lamps.length === 0 && peakC < BATCH.coolC - NEAR_HOT_K) return [];
  const lampsOut = lamps.filter(([from]) => from < LATE_RATIO * testMin).map(([, to]) => to);
  return [
    testMin,
    ...AFTER_SAND_RATIOS.map((ratio) => ratio * buildSandMin),
    ...lampsOut.flatMap((outMin) => AFTER_LAMP_MIN.map((sinceMin) => outMin + sinceMin)),
  ];
}

function solveMoved(
  { card, constants }: Question,
  { job, heatJPerKg }: MovedFilm,
  sampleAtMin: readonly number[],
): Moved {
  const build = solveFilm(card, constants, job, { heatJPerKg, sampleAtMin, tolerance: MEMBER_TOLERANCE });
  const isAllEdge = job.thicknessMm <= BATCH.edgeThicknessMm;
  const edge = isAllEdge
    ? build
    : solveFilm(card, constants, edgeJob(job), { heatJPerKg, tolerance: MEMBER_TOLERANCE });
  const sampledC = build.samples.map(({ frontC, backC }) => Math.max(frontC, backC));
  return {
    testMin: laterMin(build.coolMin, edge.coolMin),
    buildSandMin: build.sandMin,
    edgeSandMin: edge.sandMin,
    sandMin: laterMin(build.sandMin, edge.sandMin),
    peakC: Math.max(build.peakC, ...sampledC),
    heatsC: [build.peakC, edge.peakC, ...sampledC],
  };
}

function laterMin(leftMin: number | null, rightMin: number | null): number | null {
  return leftMin === null || rightMin === null ? null : Math.max(leftMin, rightMin);
}

interface ScaledFilm extends MovedFilm {
  readonly job: FilmJob & { readonly timeScale: number };
}

/** The film with each uncertain thing moved by its offset, in standard deviations; missing offsets move nothing. */
function moveFilm(
  job: FilmJob,
  { dampSd = 0, ...sd }: FilmUncertainty & { readonly dampSd?: number },
  [hardenerZ = 0, thicknessZ = 0, bayZ = 0, heatZ = 0, humidityZ = 0, lampZ = 0]: Offsets,
): ScaledFilm {
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

/** How far a thing is moved to tell what one standard deviation of it does. */
const NEAR_Z = 0.5;
/** A humidity that matters less than this is not worth two films. */
const DAMP_LEAST_SD = 0.002;
const HUMIDITY_STEPS_COUNT = 12;
/** Half the way along ln time scale on which a film is probed. */
const SCALE_STEP_RATIO = 0.15;
/** A lamp matters to members that are ready as much later than the median film. */
const LATE_RATIO = 1.7;
/** A film this far below 45 °C is not sampled. */
const NEAR_HOT_K = 15;
const AFTER_SAND_RATIOS = [1, 1.3, 1.7] as const;
const AFTER_LAMP_MIN = [0, 6, 14, 25] as const;
/** So much of a sandable instant, and so much heat, count alike. */
const SAND_MATTERS_RATIO = 0.02;
const HEAT_MATTERS_K = 1;
/** And heat counts a half this far from 45 °C. */
const HALF_HEAT_K = 8;
