// A film as ordinary differential equations, by the method of lines: design MODEL §2 and §3 as they stand there, sharing no
// line with the engine.
import type { CardConstants, CardStatement, FilmJob } from '../../server/engine/index.ts';

/** `nodes`: points from face to face, the last one the panel too. `cells`: values at mid-depth, the panel on its own. */
export interface Mesh {
  readonly layout: 'nodes' | 'cells';
  readonly count: number;
}

export interface FilmQuestion {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
}

/** Temperatures of film and panel, of the cavity, then stabiliser used and conversion of every depth of the film. */
export interface LineRates {
  readonly start: Float64Array;
  /** Depths of the film; the first temperatures are theirs. */
  readonly filmCount: number;
  /** Where the conversions begin. */
  readonly conversionIndex: number;
  /** Writes the rate of change of a state at an instant. */
  readonly write: (atS: number, state: Float64Array, rates: Float64Array) => void;
}

const FILL = {
  regular: { densityKgPerM3: 1800, heatJPerKgK: 1120, conductivityWPerMK: 0.45 },
  light: { densityKgPerM3: 1270, heatJPerKgK: 1140, conductivityWPerMK: 0.29 },
} as const;
const PANEL_J_PER_M2K = { steel: 2900, aluminium: 2900, plastic: 5400 } as const;
const GAS_J_PER_MOL_K = 8.314462618;
const ZERO_C_K = 273.15;
const BACK_W_PER_M2K = 6;
const CAVITY_S = 5400;
const CURE_J_PER_KG = 55_000;
const SEED = 1e-4;

/** Makes the equations of a film without history: air, lamp and humidity as the job says. */
export function makeLineRates({ card, constants, job }: FilmQuestion, mesh: Mesh): LineRates {
  const chain = chainOf({ card, job, mesh });
  const { filmCount, bodyCount, frontWPerM2K, lampFraction } = chain;
  const usedFrom = bodyCount + 1;
  const conversionIndex = usedFrom + filmCount;
  const perReferenceK = 1 / (card.atC + ZERO_C_K);
  const inductionK = (card.inductionActivationKJPerMol * 1000) / GAS_J_PER_MOL_K;
  const conversionK = (card.activationKJPerMol * 1000) / GAS_J_PER_MOL_K;
  const hardenerRatio = job.hardenerPct / card.hardenerPct;
  const inductionPerS = hardenerRatio / constants.inductionS;
  const conversionPerS = Math.sqrt(hardenerRatio) * constants.rateConstantPerS;
  const spells = job.lampMinWPerM2 ?? [];

  function speedAt(atMin: number): number {
    const scale = 1 / (job.timeScale ?? 1);
    if (card.humidityEffectPer10Pct === 0) return scale;
    return scale * Math.exp((-card.humidityEffectPer10Pct * (valueAt(job.humidityPct, atMin) - 50)) / 10);
  }

  function write(atS: number, state: Float64Array, rates: Float64Array): void {
    const airK = valueAt(job.airC, atS / 60) + ZERO_C_K;
    const speed = speedAt(atS / 60);
    let lampWPerM2 = 0;
    for (const [fromMin, toMin, fluxWPerM2] of spells)
      if (atS >= fromMin * 60 && atS < toMin * 60) lampWPerM2 += fluxWPerM2;
    const cavityK = state[bodyCount] as number;
    rates[bodyCount] = (airK - cavityK) / CAVITY_S;
    let fromFront = frontWPerM2K * (airK - (state[0] as number)) + lampFraction * lampWPerM2;
    for (let i = 0; i < bodyCount; i++) {
      const temperatureK = state[i] as number;
      const isLast = i === bodyCount - 1;
      const onward = isLast
        ? BACK_W_PER_M2K * (temperatureK - cavityK)
        : (chain.onWPerM2K[i] as number) * (temperatureK - (state[i + 1] as number));
      let heatWPerM2 = fromFront - onward;
      if (i < filmCount) {
        const arrhenius = perReferenceK - 1 / temperatureK;
        const used = state[usedFrom + i] as number;
        const hardening = hardeningOf(used);
        // Once it is used up, how much more does not matter.
        rates[usedFrom + i] = used > 1.1 ? 0 : speed * inductionPerS * Math.exp(inductionK * arrhenius);
        const grown =
          hardening === 0
            ? 0
            : hardening *
              speed *
              conversionPerS *
              Math.exp(conversionK * arrhenius) *
              lawOf(state[conversionIndex + i] as number, temperatureK - ZERO_C_K);
        rates[conversionIndex + i] = grown;
        heatWPerM2 += (chain.cureJPerM2[i] as number) * grown;
      }
      rates[i] = heatWPerM2 / (chain.bodyJPerM2K[i] as number);
      fromFront = onward;
    }
  }
  return { start: startOf(job, chain, frontOf(job)), filmCount, conversionIndex, write };
}

interface Chain {
  readonly filmCount: number;
  readonly bodyCount: number;
  readonly bodyJPerM2K: Float64Array;
  readonly cureJPerM2: Float64Array;
  /** Conductance from each body to the next. */
  readonly onWPerM2K: Float64Array;
  /** From the air to the first body, and how much of the lamp comes as far. */
  readonly frontWPerM2K: number;
  readonly lampFraction: number;
}

function chainOf({ card, job, mesh }: { card: CardStatement; job: FilmJob; mesh: Mesh }): Chain {
  const { densityKgPerM3, heatJPerKgK, conductivityWPerMK } = FILL[card.fill];
  const thicknessM = job.thicknessMm / 1000;
  const panel =
    PANEL_J_PER_M2K[job.substrate] + densityKgPerM3 * heatJPerKgK * ((job.underlayMm ?? 0) / 1000);
  const isOfNodes = mesh.layout === 'nodes';
  const { count } = mesh;
  const pitchM = thicknessM / (isOfNodes ? count - 1 : count);
  const shares = Array.from({ length: count }, (_, i) =>
    isOfNodes && (i === 0 || i === count - 1) ? 0.5 : 1,
  );
  const film = shares.map((share) => share * densityKgPerM3 * heatJPerKgK * pitchM);
  const last = film.length - 1;
  const body = isOfNodes ? film.map((one, i) => (i === last ? one + panel : one)) : [...film, panel];
  const inside = conductivityWPerMK / pitchM;
  const front = frontOf(job);
  const toFace = 2 * inside;
  return {
    filmCount: count,
    bodyCount: body.length,
    bodyJPerM2K: Float64Array.from(body),
    cureJPerM2: Float64Array.from(shares, (share) => share * densityKgPerM3 * CURE_J_PER_KG * pitchM),
    onWPerM2K: Float64Array.from(body, (_, i) => (!isOfNodes && i === last ? toFace : inside)),
    frontWPerM2K: isOfNodes ? front : (front * toFace) / (front + toFace),
    lampFraction: isOfNodes ? 1 : toFace / (front + toFace),
  };
}

function frontOf(job: FilmJob): number {
  return job.movingAir === true ? 15 : 8;
}

function startOf(job: FilmJob, { filmCount, bodyCount, bodyJPerM2K }: Chain, front: number) {
  const airK = valueAt(job.airC, 0) + ZERO_C_K;
  const cavityK = job.cavityStartC === undefined ? airK : job.cavityStartC + ZERO_C_K;
  const balanceK = (front * airK + BACK_W_PER_M2K * cavityK) / (front + BACK_W_PER_M2K);
  const panelK = job.panelStartC === undefined ? balanceK : job.panelStartC + ZERO_C_K;
  const mixK = job.mixC === undefined ? airK : job.mixC + ZERO_C_K;
  const start = new Float64Array(bodyCount + 1 + 2 * filmCount);
  start.fill(mixK, 0, filmCount);
  const isPanelApart = bodyCount > filmCount;
  if (isPanelApart) start[filmCount] = panelK;
  else {
    // Film and panel share the last node: it begins at the temperature they have in common.
    const all = bodyJPerM2K[bodyCount - 1] as number;
    const heatRatio = (bodyJPerM2K[0] as number) / all;
    start[bodyCount - 1] = mixK * heatRatio + panelK * (1 - heatRatio);
  }
  start[bodyCount] = cavityK;
  return start;
}

function hardeningOf(usedFraction: number): number {
  const x = Math.min(1, Math.max(0, (usedFraction - 0.95) / 0.1));
  return x * x * (3 - 2 * x);
}

function lawOf(conversion: number, temperatureC: number): number {
  const x = Math.min(1, Math.max(0.01, (temperatureC + 75) / 150));
  const ceiling = x / (0.4 + 0.6 * x);
  const left = 1 - conversion;
  return (
    (Math.sqrt(conversion + SEED) * left * Math.sqrt(left)) / (1 + Math.exp(40 * (conversion - ceiling)))
  );
}

function valueAt(series: FilmJob['airC'], atMin: number): number {
  const [first] = series as readonly [readonly [number, number], ...unknown[]];
  if (series.length === 1) return first[1];
  let before = first;
  for (const point of series) {
    if (point[0] > atMin) {
      const part = point[0] === before[0] ? 1 : (atMin - before[0]) / (point[0] - before[0]);
      return before[1] + Math.max(0, part) * (point[1] - before[1]);
    }
    before = point;
  }
  return before[1];
}
