// Whether a film can be solved: every number finite and within the bounds the model was made for.
import type { FilmJob } from './cardStatement.ts';
import { PANEL_CAPACITIES_J_PER_M2K } from './constants.ts';
import {
  type Bounds,
  judgeRange,
  judgeSeries,
  judgeWord,
  type Rejection,
  SERIES_BOUNDS,
} from './judgeRange.ts';

/** Spells of a lamp at most. */
const SPELLS_COUNT_MAX = 200;

const AIR: Bounds = { min: -40, max: 60, unit: '°C' };
const HUMIDITY: Bounds = { min: 0, max: 104, unit: '%' };
const FLUX: Bounds = { min: 0, max: 3000, unit: 'W/m²' };
const THICKNESS: Bounds = { min: 0.1, max: 12, unit: 'mm' };
const HARDENER: Bounds = { min: 0.5, max: 5, unit: '%' };

const OPTIONAL_BOUNDS = {
  cavityStartC: AIR,
  panelStartC: { min: -40, max: 100, unit: '°C' },
  mixC: AIR,
  underlayMm: { min: 0, max: 20, unit: 'mm' },
  timeScale: { min: 0.1, max: 10, unit: 'times the card' },
} as const satisfies Partial<Record<keyof FilmJob, Bounds>>;

const OPTIONAL_FIELDS = Object.keys(OPTIONAL_BOUNDS) as (keyof typeof OPTIONAL_BOUNDS)[];

/**
 * What is wrong with a job, field by field.
 * @param job  a job of the right shape
 * @returns rejections, none when the film can be solved
 * @source design MODEL §6; bounds beyond it chosen
 */
export function judgeJob(job: FilmJob): Rejection[] {
  return [
    ...judgeWord('substrate', job.substrate, Object.keys(PANEL_CAPACITIES_J_PER_M2K)),
    ...judgeRange('thicknessMm', job.thicknessMm, THICKNESS),
    ...judgeRange('hardenerPct', job.hardenerPct, HARDENER),
    ...judgeSeries('airC', job.airC, AIR),
    ...judgeSeries('humidityPct', job.humidityPct, HUMIDITY),
    ...OPTIONAL_FIELDS.flatMap((field) => {
      const value = job[field];
      return value === undefined ? [] : judgeRange(field, value, OPTIONAL_BOUNDS[field]);
    }),
    ...judgeLamp(job.lampMinWPerM2 ?? []),
  ];
}

function judgeLamp(spellsMinWPerM2: NonNullable<FilmJob['lampMinWPerM2']>): Rejection[] {
  const path = 'lampMinWPerM2';
  if (spellsMinWPerM2.length > SPELLS_COUNT_MAX) {
    const reason = `has ${spellsMinWPerM2.length} spells`;
    return [{ path, reason, allowed: `0 to ${SPELLS_COUNT_MAX} spells` }];
  }
  return spellsMinWPerM2.flatMap(([fromMin, toMin, fluxWPerM2], index) => {
    const found = [
      ...judgeRange(`${path}.${index}.0`, fromMin, SERIES_BOUNDS),
      ...judgeRange(`${path}.${index}.1`, toMin, SERIES_BOUNDS),
      ...judgeRange(`${path}.${index}.2`, fluxWPerM2, FLUX),
    ];
    if (found.length === 0 && toMin < fromMin) {
      const reason = `ends at minute ${toMin}, before it begins`;
      found.push({ path: `${path}.${index}.1`, reason, allowed: `minute ${fromMin} or later` });
    }
    return found.slice(0, 1);
  });
}
