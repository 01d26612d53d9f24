// What nobody measures of one batch, and how far it moves the instant at which the batch is worth testing.
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

interface Question {
  readonly card: CardStatement;
  readonly constants: CardConstants;
  readonly job: FilmJob;
}

interface Change {
  readonly job?: Partial<FilmJob>;
  readonly heatJPerKg?: number;
}

/**
 * Standard deviation of ln test time from what is not measured of a batch [1].
 * σ² = Σ ((ln T(θ + sd) − ln T(θ − sd)) / 2)², build and edge sharing each change
 * @param question  product, constants and job, judged before
 * @param uncertainty  standard deviations, ≥ 0
 * @returns standard deviation [1], ≥ 0; where one side never is ready the other side speaks for both
 * @source own: linearisation about the median film, design MODEL §5
 */
export function uncertainLogSd(question: Question, uncertainty: FilmUncertainty): number {
  const { job } = question;
  const medianMin = testMinOf(question, {});
  const half = (change: (z: number) => Change): number => {
    const lowMin = testMinOf(question, change(-1)) ?? medianMin;
    const highMin = testMinOf(question, change(1)) ?? medianMin;
    if (lowMin === null || highMin === null) return 0;
    const steps = Number(lowMin !== medianMin) + Number(highMin !== medianMin);
    return Math.log(highMin / lowMin) / Math.max(1, steps);
  };
  const { hardenerPct, thicknessMm, lampMinWPerM2 } = job;
  const dampLogSd = uncertainty.humidityEffectSd * (Math.abs(meanHumidityOffPct(job, medianMin)) / 10);
  return Math.hypot(
    half((z) => ({ job: { hardenerPct: hardenerPct * Math.exp(z * uncertainty.hardenerLogSd) } })),
    half((z) => ({ job: { thicknessMm: thicknessMm * Math.exp(z * uncertainty.thicknessLogSd) } })),
    half((z) => ({ job: shiftBay(job, z * uncertainty.bayOffsetSdK) })),
    half((z) => ({ heatJPerKg: Math.max(0, KINETICS.heatJPerKg + z * uncertainty.heatSdJPerKg) })),
    dampLogSd < DAMP_LEAST_SD
      ? 0
      : half((z) => ({ job: { timeScale: (job.timeScale ?? 1) * Math.exp(z * dampLogSd) } })),
    lampMinWPerM2 === undefined || lampMinWPerM2.length === 0
      ? 0
      : half((z) => ({
          job: { lampMinWPerM2: brighten(lampMinWPerM2, Math.exp(z * uncertainty.lampLogSd)) },
        })),
  );
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

function valueAt(series: Series, atMin: number): number {
  const after = series.findIndex(([pointMin]) => pointMin >= atMin);
  const [rightMin, right] = series[after === -1 ? series.length - 1 : after] as readonly [number, number];
  const left = series[after - 1];
  if (after < 1 || left === undefined || rightMin === left[0]) return right;
  return left[1] + ((atMin - left[0]) / (rightMin - left[0])) * (right - left[1]);
}

/** A humidity that matters less than this is not worth two films. */
const DAMP_LEAST_SD = 0.002;
const HUMIDITY_STEPS_COUNT = 12;

function testMinOf({ card, constants, job }: Question, { job: changed, ...options }: Change): number | null {
  return solveBatch(card, constants, { ...job, ...changed }, options).testMin;
}

function shiftBay({ airC, cavityStartC, panelStartC }: FilmJob, byK: number): Partial<FilmJob> {
  return {
    airC: airC.map(([atMin, value]) => [atMin, value + byK] as const) satisfies Series,
    ...(cavityStartC === undefined ? {} : { cavityStartC: cavityStartC + byK }),
    ...(panelStartC === undefined ? {} : { panelStartC: panelStartC + byK }),
  };
}

function brighten(
  spellsMinWPerM2: NonNullable<FilmJob['lampMinWPerM2']>,
  ratio: number,
): NonNullable<FilmJob['lampMinWPerM2']> {
  return spellsMinWPerM2.map(([fromMin, toMin, fluxWPerM2]) => [fromMin, toMin, fluxWPerM2 * ratio] as const);
}
