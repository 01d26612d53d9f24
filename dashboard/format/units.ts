// The units a reader has chosen, and the one place where values are turned over: everything else holds and sends metric.

export interface Units {
  readonly temperature: 'C' | 'F';
  readonly length: 'mm' | 'in';
  readonly mass: 'g' | 'oz';
}

/** Whoever reads a number: the language it is written in, and the units. */
export interface Reader {
  readonly locale: string;
  readonly units: Units;
}

export const METRIC: Units = { temperature: 'C', length: 'mm', mass: 'g' };
export const US_CUSTOMARY: Units = { temperature: 'F', length: 'in', mass: 'oz' };

/** The inch and the avoirdupois ounce by their definitions (international yard and pound, 1959). */
const INCH_MM = 25.4;
const OUNCE_G = 28.349523125;
const F_PER_K = 1.8;
/** Where water freezes [°F]. */
const FREEZING_VALUE = 32;

/** A temperature as the reader's thermometer has it. */
export function shownTemperature(temperatureC: number, { temperature }: Units): number {
  return temperature === 'C' ? temperatureC : temperatureC * F_PER_K + FREEZING_VALUE;
}

/** A difference of temperatures: a kelvin is 1.8 °F, and nothing is added. */
export function shownDifference(differenceK: number, { temperature }: Units): number {
  return temperature === 'C' ? differenceK : differenceK * F_PER_K;
}

/** A thickness in mm or inches. */
export function shownThickness(thicknessMm: number, { length }: Units): number {
  return length === 'mm' ? thicknessMm : thicknessMm / INCH_MM;
}

/** A length in cm or inches. */
export function shownLength(lengthCm: number, { length }: Units): number {
  return length === 'mm' ? lengthCm : (lengthCm * 10) / INCH_MM;
}

/** A mass in grams or ounces. */
export function shownMass(massG: number, { mass }: Units): number {
  return mass === 'g' ? massG : massG / OUNCE_G;
}

/** What the reader's thermometer says, in °C. */
export function celsiusFromShown(shownValue: number, { temperature }: Units): number {
  return temperature === 'C' ? shownValue : (shownValue - FREEZING_VALUE) / F_PER_K;
}

/** A difference in the reader's degrees, in K. */
export function kelvinFromShownDifference(shownValue: number, { temperature }: Units): number {
  return temperature === 'C' ? shownValue : shownValue / F_PER_K;
}

/** A mass in the reader's unit, in grams. */
export function gramsFromShown(shownValue: number, { mass }: Units): number {
  return mass === 'g' ? shownValue : shownValue * OUNCE_G;
}

/** A thickness in the reader's unit, in mm. */
export function mmFromShown(shownValue: number, { length }: Units): number {
  return length === 'mm' ? shownValue : shownValue * INCH_MM;
}

/** A length in the reader's unit, in cm. */
export function cmFromShown(shownValue: number, { length }: Units): number {
  return length === 'mm' ? shownValue : (shownValue * INCH_MM) / 10;
}

/** °C or °F. */
export function temperatureUnit({ temperature }: Units): string {
  return `°${temperature}`;
}

/** mm or in, for thicknesses. */
export function thicknessUnit({ length }: Units): string {
  return length;
}

/** cm or in, for lengths. */
export function lengthUnit({ length }: Units): string {
  return length === 'mm' ? 'cm' : 'in';
}
