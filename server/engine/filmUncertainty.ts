// What nobody measures of one batch, and how far it moves the instant at which the batch is worth testing.
import type { CardConstants, CardStatement, FilmJob, Series } from './cardStatement.ts';
import { KINETICS } from './constants.ts';
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
 * @returns standard deviation [1], ≥ 0; a change with which the batch never is ready counts for nothing
 * @source own: linearisation about the median film, design MODEL §5
 */
export function uncertainLogSd(question: Question, uncertainty: FilmUncertainty): number {
  const { job } = question;
  const half = (change: (z: number) => Change): number => {
    const lowMin = testMinOf(question, change(-1));
    const highMin = testMinOf(question, change(1));
    return lowMin === null || highMin === null ? 0 : Math.log(highMin / lowMin) / 2;
  };
  const { hardenerPct, thicknessMm, lampMinWPerM2 } = job;
  return Math.hypot(
    half((z) => ({ job: { hardenerPct: hardenerPct * Math.exp(z * uncertainty.hardenerLogSd) } })),
    half((z) => ({ job: { thicknessMm: thicknessMm * Math.exp(z * uncertainty.thicknessLogSd) } })),
    half((z) => ({ job: shiftBay(job, z * uncertainty.bayOffsetSdK) })),
    half((z) => ({ heatJPerKg: Math.max(0, KINETICS.heatJPerKg + z * uncertainty.heatSdJPerKg) })),
    lampMinWPerM2 === undefined || lampMinWPerM2.length === 0
      ? 0
      : half((z) => ({
          job: { lampMinWPerM2: brighten(lampMinWPerM2, Math.exp(z * uncertainty.lampLogSd)) },
        })),
  );
}

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
