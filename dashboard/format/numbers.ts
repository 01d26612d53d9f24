// Numbers with their units, as they stand on the screen; the number and its unit never part.

/** A temperature to a tenth: "13.4 °C". */
export function formatTemperature(temperatureC: number, locale: string): string {
  return `${formatFixed(temperatureC, 1, locale)}\u00a0°C`;
}

/** A temperature in whole degrees, for sentences: "13 °C"; no line breaks before the unit. */
export function formatWholeTemperature(temperatureC: number, locale: string): string {
  return `${formatFixed(temperatureC, 0, locale)}\u00a0°C`;
}

/** A difference of temperatures to a tenth: "9.4 °C", as people say it. */
export function formatDegrees(differenceK: number, locale: string): string {
  return `${formatFixed(differenceK, 1, locale)}\u00a0°C`;
}

/** A share in whole percent: "55 %". */
export function formatPct(valuePct: number, locale: string): string {
  return `${formatFixed(valuePct, 0, locale)}\u00a0%`;
}

/** A thickness as it is chosen: "0.5 mm". */
export function formatThickness(thicknessMm: number, locale: string): string {
  return `${formatPlain(thicknessMm, locale)} mm`;
}

/** A mass for a pocket scale: tenths below 10 g, whole grams above. */
export function formatMass(massG: number, locale: string): string {
  return `${formatFixed(massG, massG < 10 ? 1 : 0, locale)} g`;
}

/** A number as short as it can be: "2", "17.5". */
export function formatPlain(value: number, locale: string): string {
  return new Intl.NumberFormat(locale, { maximumFractionDigits: 2 }).format(value).replace('-', '−');
}

function formatFixed(value: number, digitsCount: number, locale: string): string {
  const text = new Intl.NumberFormat(locale, {
    minimumFractionDigits: digitsCount,
    maximumFractionDigits: digitsCount,
  }).format(value);
  return text.replace(/^-(0(?:[.,]0)?)$/, '$1').replace('-', '−');
}
