// A second solver, plain and slow, written from the model's equations alone: it shares no line with the engine.
// Many equal cells, an L-stable implicit rule for heat (SDIRK2), the midpoint rule for chemistry, short steps.
import type { CardConstants, CardStatement, FilmJob, Series } from '../../server/engine/index.ts';

/** What the plain solver finds; instants are infinite where they are not reached within 12 h. */
export interface PlainSolution {
  readonly gelMin: number;
  readonly sandMin: number;
  readonly coolMin: number;
  /** Highest of all cells and the free face until sandable: the panel's own face only as one cell's middle. */
  readonly peakC: number;
  readonly samples: readonly PlainSample[];
}

export interface PlainSample {
  readonly atMin: number;
  readonly frontC: number;
  readonly backC: number;
  readonly minConversion: number;
  readonly maxConversion: number;
}

export interface PlainOptions {
  readonly sampleAtMin?: readonly number[];
  readonly cellCount?: number;
  /** Multiplies every step. */
  readonly stepRatio?: number;
}

/** Cells, then the panel: unknowns of the heat equation. Chemistry also runs on both faces. */
interface Plain {
  readonly cellCount: number;
  readonly cellJPerM2K: number;
  readonly panelJPerM2K: number;
  /** Between cells, from a cell's middle to a face, and to the air on either side [W/m²K]. */
  readonly betweenWPerM2K: number;
  readonly halfWPerM2K: number;
  readonly frontWPerM2K: number;
  readonly heatJPerM2: number;
  /** A part of the time in which heat crosses a cell. */
  readonly touchS: number;
  /** Front face, cells, back face. */
  readonly used: Float64Array;
  readonly conversion: Float64Array;
  readonly conversionRise: Float64Array;
  /** Cells, then the panel [°C]. */
  temperature: Float64Array;
  before: Float64Array;
  cavityC: number;
}

const gamma = 1 - Math.SQRT1_2;
const horizonS = 720 * 60;
const behindWPerM2K = 6;

/** Solves one film. */
export function solvePlain(
  card: CardStatement,
  constants: CardConstants,
  job: FilmJob,
  options: PlainOptions = {},
): PlainSolution {
  const plain = beginPlain(card, job, options.cellCount ?? 120);
  const breaks = breakpointsS(job);
  const sampleAtS = (options.sampleAtMin ?? []).map((atMin) => atMin * 60);
  const samples: PlainSample[] = [];
  const lastSampleS = Math.max(0, ...sampleAtS);
  let [gelS, sandS, coolS, peakC] = [Infinity, Infinity, Infinity, -Infinity];
  let atS = 0;
  let stepBeforeS = 0;
  while (atS < Math.max(horizonS, lastSampleS) && (coolS === Infinity || atS < lastSampleS)) {
    // Short at first for the touch of film and panel, then a thousandth of the time gone by.
    const wishS = (options.stepRatio ?? 1) * Math.min(2, plain.touchS + atS * 0.15, 0.4 + atS * 0.0012);
    const nextS = breaks.find((breakS) => breakS > atS + 1e-9) ?? Infinity;
    const stepS = Math.min(wishS, nextS - atS);
    const levelsBefore = levelsOf(plain, job, atS);
    const samplesBefore = sampleOf(plain, job, atS);
    stepPlain(plain, { card, constants, job, atS, stepS, stepBeforeS });
    stepBeforeS = stepS;
    const levels = levelsOf(plain, job, atS + stepS);
    const within = (level: number, from: number, to: number): number =>
      atS + stepS * Math.min(1, Math.max(0, (level - from) / (to - from)));
    if (gelS === Infinity && levels.most >= 0.05) gelS = within(0.05, levelsBefore.most, levels.most);
    const isSandedBefore = sandS < Infinity;
    if (!isSandedBefore && levels.least >= 0.75) sandS = within(0.75, levelsBefore.least, levels.least);
    if (!isSandedBefore) {
      const part = Math.min(1, (sandS - atS) / stepS);
      peakC = Math.max(
        peakC,
        levelsBefore.filmC,
        levelsBefore.filmC + part * (levels.filmC - levelsBefore.filmC),
      );
    }
    if (sandS < Infinity && coolS === Infinity && levels.hottestC <= 45)
      coolS = Math.max(
        sandS,
        levelsBefore.hottestC > 45 ? within(45, levelsBefore.hottestC, levels.hottestC) : atS,
      );
    const sampleAfter = sampleOf(plain, job, atS + stepS);
    sampleAtS.forEach((sampleS, index) => {
      if (sampleS < atS || sampleS > atS + stepS) return;
      samples[index] = blend(samplesBefore, sampleAfter, (sampleS - atS) / stepS);
    });
    atS += stepS;
  }
  const minutes = (instantS: number): number => (instantS <= horizonS ? instantS / 60 : Infinity);
  return { gelMin: minutes(gelS), sandMin: minutes(sandS), coolMin: minutes(coolS), peakC, samples };
}

function beginPlain(card: CardStatement, job: FilmJob, cellCount: number): Plain {
  const [density, capacity, conductivity] = card.fill === 'regular' ? [1800, 1120, 0.45] : [1270, 1140, 0.29];
  const cellM = job.thicknessMm / 1000 / cellCount;
  const underlayJPerM2K = (density * capacity * (job.underlayMm ?? 0)) / 1000;
  const frontWPerM2K = job.movingAir === true ? 15 : 8;
  const airC = valueAt(job.airC, 0);
  const cavityC = job.cavityStartC ?? airC;
  const balanceC = (frontWPerM2K * airC + behindWPerM2K * cavityC) / (frontWPerM2K + behindWPerM2K);
  const temperature = new Float64Array(cellCount + 1).fill(job.mixC ?? airC);
  temperature[cellCount] = job.panelStartC ?? balanceC;
  return {
    cellCount,
    cellJPerM2K: density * capacity * cellM,
    panelJPerM2K: (job.substrate === 'plastic' ? 5400 : 2900) + underlayJPerM2K,
    betweenWPerM2K: conductivity / cellM,
    halfWPerM2K: (2 * conductivity) / cellM,
    frontWPerM2K,
    heatJPerM2: density * cellM * 55_000,
    touchS: (0.1 * density * capacity * cellM * cellM) / conductivity,
    used: new Float64Array(cellCount + 2),
    conversion: new Float64Array(cellCount + 2),
    conversionRise: new Float64Array(cellCount + 2),
    temperature,
    before: temperature.slice(),
    cavityC,
  };
}

interface Step {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
  readonly atS: number;
  readonly stepS: number;
  readonly stepBeforeS: number;
}

function stepPlain(plain: Plain, step: Step): void {
  react(plain, step);
  const { job, atS, stepS } = step;
  const n = plain.cellCount;
  const start = plain.temperature;
  const first = stage(plain, { job, atS: atS + gamma * stepS, stepS, known: start, cavityC: plain.cavityC });
  const known = start.map(
    (value, i) => value + ((1 - gamma) / gamma) * ((first.temperature[i] ?? 0) - value),
  );
  const cavityC = plain.cavityC + ((1 - gamma) / gamma) * (first.cavityC - plain.cavityC);
  const second = stage(plain, { job, atS: atS + stepS, stepS, known, cavityC });
  for (let i = 0; i <= n; i++) plain.before[i] = start[i] ?? 0;
  plain.temperature = second.temperature;
  plain.cavityC = second.cavityC;
}

/** Chemistry over the step at temperatures carried on straight from the step before. */
function react(plain: Plain, { card, constants, job, atS, stepS, stepBeforeS }: Step): void {
  const n = plain.cellCount;
  const ratio = job.hardenerPct / card.hardenerPct;
  const perReference = 1 / (card.atC + 273.15);
  const slow = job.timeScale ?? 1;
  const heldPct = job.humidityPct.map(([atMin, value]) => [atMin, Math.min(value, 100)] as const);
  const humidityPct = valueAt(heldPct, atS + stepS / 2);
  const speed = Math.exp((-card.humidityEffectPer10Pct * (humidityPct - 50)) / 10) / slow;
  const inductionPerS = (speed * ratio) / constants.inductionS;
  const curePerS = speed * constants.rateConstantPerS * Math.sqrt(ratio);
  const inductionK = (card.inductionActivationKJPerMol * 1000) / 8.314462618;
  const cureK = (card.activationKJPerMol * 1000) / 8.314462618;
  const onward = stepBeforeS === 0 ? 0 : stepS / (2 * stepBeforeS);
  const front = frontC(plain, job, atS);
  const frontRise = stepBeforeS === 0 ? 0 : onward * ((plain.temperature[0] ?? 0) - (plain.before[0] ?? 0));
  for (let i = 0; i < n + 2; i++) {
    const cell = Math.max(0, i - 1);
    const nowC = i === 0 ? front : (plain.temperature[cell] ?? 0);
    const rise = i === 0 ? frontRise : onward * ((plain.temperature[cell] ?? 0) - (plain.before[cell] ?? 0));
    const middleC = nowC + rise;
    const used = plain.used[i] ?? 0;
    const usedRise =
      used > 1.06
        ? 0
        : stepS * inductionPerS * Math.exp(inductionK * (perReference - 1 / (middleC + 273.15)));
    const conversion = plain.conversion[i] ?? 0;
    plain.used[i] = used + usedRise;
    if (used + usedRise < 0.95) continue;
    const nowPerS =
      curePerS * curePace(used, conversion, nowC) * Math.exp(cureK * (perReference - 1 / (nowC + 273.15)));
    const halfway = conversion + (stepS / 2) * nowPerS;
    const middlePerS =
      curePerS *
      curePace(used + usedRise / 2, halfway, middleC) *
      Math.exp(cureK * (perReference - 1 / (middleC + 273.15)));
    plain.conversionRise[i] = stepS * middlePerS;
    plain.conversion[i] = conversion + stepS * middlePerS;
  }
}

/** H (α + ε)^½ (1 − α)^1.5 f_d. */
function curePace(used: number, conversion: number, temperatureC: number): number {
  const x = Math.min(1, Math.max(0, (used - 0.95) / 0.1));
  const warmth = Math.min(1, Math.max(0.01, (temperatureC + 75) / 150));
  const ceiling = warmth / (0.4 + 0.6 * warmth);
  const left = Math.max(0, 1 - conversion);
  const power = Math.sqrt(conversion + 1e-4) * left * Math.sqrt(left);
  return (x * x * (3 - 2 * x) * power) / (1 + Math.exp(40 * (conversion - ceiling)));
}

/** One implicit stage: T = known + γ h f(T), with cells and panel in one tridiagonal system and the cavity before it. */
function stage(
  plain: Plain,
  {
    job,
    atS,
    stepS,
    known,
    cavityC: cavityKnownC,
  }: {
    job: FilmJob;
    atS: number;
    stepS: number;
    known: Float64Array;
    cavityC: number;
  },
): { temperature: Float64Array; cavityC: number } {
  const { cellCount: n, cellJPerM2K, panelJPerM2K, betweenWPerM2K, halfWPerM2K, frontWPerM2K } = plain;
  const part = gamma * stepS;
  // Just before a breakpoint's own instant, so that a jump there belongs to the next step.
  const airC = valueAt(job.airC, atS);
  const cavityC = (cavityKnownC + (part / 5400) * airC) / (1 + part / 5400);
  const throughFront = 1 / (1 / frontWPerM2K + 1 / halfWPerM2K);
  const lampShare = halfWPerM2K / (halfWPerM2K + frontWPerM2K);
  const lamp = lampAt(job, atS - stepS * 1e-6);
  const temperature = new Float64Array(n + 1);
  const factor = new Float64Array(n + 1);
  let aboveWPerM2K = 0;
  for (let i = 0; i <= n; i++) {
    const capacity = i === n ? panelJPerM2K : cellJPerM2K;
    const before = i === 0 ? 0 : i === n ? halfWPerM2K : betweenWPerM2K;
    const after = i === n ? 0 : i === n - 1 ? halfWPerM2K : betweenWPerM2K;
    const outside = i === 0 ? throughFront : i === n ? behindWPerM2K : 0;
    const outsideC = i === 0 ? airC : cavityC;
    const heat = i === n ? 0 : (plain.heatJPerM2 * (plain.conversionRise[i + 1] ?? 0)) / stepS;
    const source = heat + outside * outsideC + (i === 0 ? lamp * lampShare : 0);
    const diagonal = capacity + part * (before + after + outside) - part * before * (factor[i - 1] ?? 0);
    const right = capacity * (known[i] ?? 0) + part * source + part * before * (temperature[i - 1] ?? 0);
    factor[i] = (part * after) / diagonal;
    temperature[i] = right / diagonal;
    aboveWPerM2K = after;
  }
  if (aboveWPerM2K !== 0) throw new Error('nothing lies behind the panel but its cavity');
  for (let i = n - 1; i >= 0; i--)
    temperature[i] = (temperature[i] ?? 0) + (factor[i] ?? 0) * (temperature[i + 1] ?? 0);
  return { temperature, cavityC };
}

/** The free face: what half a cell conducts to it meets air and lamp. */
function frontC(plain: Plain, job: FilmJob, atS: number): number {
  const { halfWPerM2K, frontWPerM2K, temperature } = plain;
  const airC = valueAt(job.airC, atS);
  return (
    (halfWPerM2K * (temperature[0] ?? 0) + frontWPerM2K * airC + lampAt(job, atS)) /
    (halfWPerM2K + frontWPerM2K)
  );
}

function levelsOf(plain: Plain, job: FilmJob, atS: number) {
  const { cellCount: n, conversion, temperature } = plain;
  let filmC = frontC(plain, job, atS);
  let least = Infinity;
  let most = 0;
  for (let i = 0; i < n; i++) filmC = Math.max(filmC, temperature[i] ?? 0);
  for (const value of conversion) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return { least, most, filmC, hottestC: Math.max(filmC, temperature[n] ?? 0) };
}

function sampleOf(plain: Plain, job: FilmJob, atS: number): PlainSample {
  const { least, most } = levelsOf(plain, job, atS);
  return {
    atMin: atS / 60,
    frontC: frontC(plain, job, atS),
    backC: plain.temperature[plain.cellCount] ?? 0,
    minConversion: least,
    maxConversion: most,
  };
}

function blend(before: PlainSample, after: PlainSample, part: number): PlainSample {
  const mix = (key: keyof PlainSample): number => before[key] + part * (after[key] - before[key]);
  return {
    atMin: mix('atMin'),
    frontC: mix('frontC'),
    backC: mix('backC'),
    minConversion: mix('minConversion'),
    maxConversion: mix('maxConversion'),
  };
}

/** Straight between points, constant outside them. */
function valueAt(seriesMin: Series, atS: number): number {
  const atMin = atS / 60;
  const next = seriesMin.findIndex(([pointMin]) => pointMin > atMin);
  const before = seriesMin[(next === -1 ? seriesMin.length : next) - 1];
  const after = next === -1 ? undefined : seriesMin[next];
  const near = before ?? after ?? [0, 0];
  if (before === undefined || after === undefined) return near[1];
  return before[1] + ((after[1] - before[1]) * (atMin - before[0])) / (after[0] - before[0]);
}

function lampAt(job: FilmJob, atS: number): number {
  return (job.lampMinWPerM2 ?? []).reduce(
    (sum, [fromMin, toMin, flux]) => sum + (atS >= fromMin * 60 && atS < toMin * 60 ? flux : 0),
    0,
  );
}

function breakpointsS(job: FilmJob): number[] {
  const minutes = [
    ...job.airC.map(([atMin]) => atMin),
    ...job.humidityPct.map(([atMin]) => atMin),
    ...(job.lampMinWPerM2 ?? []).flatMap(([fromMin, toMin]) => [fromMin, toMin]),
  ];
  return [...new Set(minutes)].map((atMin) => atMin * 60).sort((left, right) => left - right);
}
