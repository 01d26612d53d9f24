// Numbers as people type them: read with a point or a comma, and turned between the reader's unit and the stored one
// exactly once. A field's stored text is metric; what is no number stays as it was typed.
import {
  celsiusFromShown,
  cmFromShown,
  gramsFromShown,
  kelvinFromShownDifference,
  lengthUnit,
  mmFromShown,
  type Reader,
  shownDifference,
  shownLength,
  shownMass,
  shownTemperature,
  shownThickness,
  temperatureUnit,
  thicknessUnit,
  type Units,
} from './units.ts';

/** plain: a number without a unit to choose. */
export type Quantity = 'plain' | 'temperature' | 'difference' | 'thickness' | 'length' | 'mass';

export interface FieldReader {
  readonly quantity: Quantity;
  readonly reader: Reader;
}

/** Reads a typed number with a point or a comma; null when it is none. */
export function numberOf(text: string): number | null {
  const trimmed = text.trim().replace(',', '.');
  if (trimmed === '') return null;
  const value = Number(trimmed);
  return Number.isFinite(value) ? value : null;
}

/** A stored text as it stands in the reader's field. */
export function fieldTextOf(storedText: string, { quantity, reader }: FieldReader): string {
  const stored = numberOf(storedText);
  if (stored === null) return storedText;
  const { show, digitsCount } = turns[quantity];
  const shown = show(stored, reader.units);
  // What needs no turning keeps all its digits.
  if (shown === stored) return storedText.replace('.', decimalSign(reader.locale));
  return new Intl.NumberFormat(reader.locale, {
    maximumFractionDigits: digitsCount,
    useGrouping: false,
  }).format(shown);
}

/** What was typed, as it is stored. */
export function storedTextOf(typedText: string, { quantity, reader }: FieldReader): string {
  const typed = numberOf(typedText);
  if (typed === null) return typedText;
  const stored = turns[quantity].store(typed, reader.units);
  return stored === typed ? typedText : String(Number(stored.toFixed(STORED_DIGITS_MAX)));
}

/** The unit in which a field is typed; empty where there is none to choose. */
export function fieldUnit({ quantity, reader }: FieldReader): string {
  return turns[quantity].unit(reader.units);
}

/** Enough to keep any typed digit, and too few to carry the dust of a division. */
const STORED_DIGITS_MAX = 6;

function decimalSign(locale: string): string {
  const part = new Intl.NumberFormat(locale).formatToParts(0.5).find(({ type }) => type === 'decimal');
  return part?.value ?? '.';
}

interface Turn {
  readonly show: (value: number, units: Units) => number;
  readonly store: (value: number, units: Units) => number;
  readonly unit: (units: Units) => string;
  /** How fine the reader's unit is shown where it is not the stored one. */
  readonly digitsCount: number;
}

const turns: Readonly<Record<Quantity, Turn>> = {
  plain: { show: (value) => value, store: (value) => value, unit: () => '', digitsCount: 0 },
  temperature: { show: shownTemperature, store: celsiusFromShown, unit: temperatureUnit, digitsCount: 1 },
  difference: {
    show: shownDifference,
    store: kelvinFromShownDifference,
    unit: temperatureUnit,
    digitsCount: 1,
  },
  thickness: { show: shownThickness, store: mmFromShown, unit: thicknessUnit, digitsCount: 3 },
  length: { show: shownLength, store: cmFromShown, unit: lengthUnit, digitsCount: 2 },
  mass: { show: shownMass, store: gramsFromShown, unit: ({ mass }) => mass, digitsCount: 3 },
};
