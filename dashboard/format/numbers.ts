// Numbers with their units, as they stand on the screen; the number and its unit never part.
import { numberFormat } from './intl.ts';
import {
  lengthUnit,
  type Reader,
  shownDifference,
  shownLength,
  shownMass,
  shownTemperature,
  shownThickness,
  temperatureUnit,
  thicknessUnit,
} from './units.ts';

/** A temperature to a tenth: "13.4 °C". */
export function formatTemperature(temperatureC: number, { locale, units }: Reader): string {
  return joined(formatFixed(shownTemperature(temperatureC, units), 1, locale), temperatureUnit(units));
}

/** A temperature in whole degrees, for sentences: "13 °C"; no line breaks before the unit. */
export function formatWholeTemperature(temperatureC: number, { locale, units }: Reader): string {
  return joined(formatFixed(shownTemperature(temperatureC, units), 0, locale), temperatureUnit(units));
}

/** A difference of temperatures to a tenth at most: "9.4 °C", as people say it. */
export function formatDegrees(differenceK: number, { locale, units }: Reader): string {
  return joined(formatTenth(shownDifference(differenceK, units), locale), temperatureUnit(units));
}

/** A temperature as a bare number to a tenth at most, under a heading that names the unit. */
export function formatBareTemperature(temperatureC: number, { locale, units }: Reader): string {
  return formatTenth(shownTemperature(temperatureC, units), locale);
}

/** The same for a difference. */
export function formatBareDegrees(differenceK: number, { locale, units }: Reader): string {
  return formatTenth(shownDifference(differenceK, units), locale);
}

/** A share in whole percent: "55 %". */
export function formatPct(valuePct: number, locale: string): string {
  return joined(formatFixed(valuePct, 0, locale), '%');
}

/** A dose as short as it can be: "2.5 %". */
export function formatDose(valuePct: number, locale: string): string {
  return joined(formatPlain(valuePct, locale), '%');
}

/** A thickness as it is chosen: "0.5 mm"; hundredths of an inch tell all of them apart. */
export function formatThickness(thicknessMm: number, { locale, units }: Reader): string {
  const thickness = shownThickness(thicknessMm, units);
  const isThin = units.length === 'in' && thickness > 0 && thickness < THIN_BELOW_VALUE;
  return `${isThin ? formatFixed(thickness, 3, locale) : formatPlain(thickness, locale)} ${thicknessUnit(units)}`;
}

/** A length or a distance: "60 cm"; of inches the whole ones, and tenths below ten. */
export function formatLength(lengthCm: number, { locale, units }: Reader): string {
  const length = shownLength(lengthCm, units);
  const isFine = units.length === 'in' && Math.abs(length) < FINE_BELOW_VALUE;
  const text =
    units.length === 'mm' ? formatPlain(length, locale) : formatFixed(length, isFine ? 1 : 0, locale);
  return `${text} ${lengthUnit(units)}`;
}

/** A mass for a pocket scale: three figures or so, since a hardener's dose is small. */
export function formatMass(massG: number, { locale, units }: Reader): string {
  const mass = shownMass(massG, units);
  const digits =
    units.mass === 'g' ? (mass < FINE_BELOW_VALUE ? 1 : 0) : mass < 1 ? 3 : mass < FINE_BELOW_VALUE ? 2 : 1;
  return `${formatFixed(mass, digits, locale)} ${units.mass}`;
}

/** A number as short as it can be: "2", "17.5". */
export function formatPlain(value: number, locale: string): string {
  return dashed(numberFormat(locale, { maximumFractionDigits: 2 }).format(value));
}

/** Below this a hundredth of an inch says too little [in]. */
const THIN_BELOW_VALUE = 0.01;
/** Where a unit is fine enough for whole numbers. */
const FINE_BELOW_VALUE = 10;

function joined(text: string, unit: string): string {
  return `${text}\u00a0${unit}`;
}

function formatTenth(value: number, locale: string): string {
  return dashed(numberFormat(locale, { maximumFractionDigits: 1 }).format(value));
}

function formatFixed(value: number, digitsCount: number, locale: string): string {
  return dashed(
    numberFormat(locale, {
      minimumFractionDigits: digitsCount,
      maximumFractionDigits: digitsCount,
    }).format(value),
  );
}

/** A proper minus, and none before nothing. */
function dashed(text: string): string {
  return text.replace(/^-(0(?:[.,]0+)?)$/, '$1').replace('-', '−');
}
