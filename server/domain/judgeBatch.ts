// Holds and warnings of a batch: condensation, too cold, too hot, hardener and thickness outside good practice.
import type { NoteCode } from '../contract/index.ts';
import { dewPointC, isCondensing } from '../engine/index.ts';
import type { BatchState } from './batch.ts';
import type { Card } from './card.ts';
import type { FilmQuestion } from './filmJob.ts';

/** Past this a lamp blisters the film (common practice, no source). */
const PANEL_TEMPERATURE_MAX_C = 60;
/** Too little never cures through, too much bleeds through paint (common practice, no source). */
const HARDENER_MIN_PCT = 1;
const HARDENER_MAX_PCT = 3;
/** Dew points below this relative humidity are meaningless for a shop and undefined at zero. */
const HUMIDITY_MIN_PCT = 1;

/** Judges what is known of a batch; film is null while its bay has no reading. */
export function judgeBatch(
  state: BatchState,
  { card, film, peakC }: { card: Card; film: FilmQuestion | null; peakC: number | null },
): NoteCode[] {
  const notes: NoteCode[] = [];
  if (film !== null && isWetOnPanel(state) && isPanelDamp(film)) notes.push('condensation-hold');
  if (film !== null && Math.min(film.panelStartC, film.airNowC) < card.lowestC) notes.push('too-cold');
  if (peakC !== null && peakC > PANEL_TEMPERATURE_MAX_C) notes.push('too-hot');
  if (state.hardenerPct < HARDENER_MIN_PCT) notes.push('hardener-low');
  if (state.hardenerPct > HARDENER_MAX_PCT) notes.push('hardener-high');
  if (state.thicknessMm > card.thicknessMaxMm) notes.push('film-thick');
  return notes;
}

/** Damp only matters while the panel is still bare: once the film has kicked there is nothing left to hold. */
function isWetOnPanel(state: BatchState): boolean {
  return state.stage === 'wet' && state.spreadAt === null;
}

function isPanelDamp(film: FilmQuestion): boolean {
  if (!film.isHumidityKnown) return false;
  const humidityPct = Math.max(film.humidityNowPct, HUMIDITY_MIN_PCT);
  return isCondensing({
    surfaceTemperatureC: film.panelStartC,
    dewPointC: dewPointC(film.airNowC, humidityPct),
  });
}
