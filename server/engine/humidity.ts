// Vapour in air: what condenses on a panel must be warmed off before anything is spread.

/** Magnus over water, −45 … 60 °C: 6.112 hPa, 17.62, 243.12 °C. */
const MAGNUS = { zeroPa: 611.2, slopeRatio: 17.62, offsetC: 243.12 } as const;
/** A surface must stay this far above the dew point. */
const CLEARANCE_K = 3;
const PERCENT_PCT = 100;

/**
 * Saturation vapour pressure over water [Pa].
 * e_w = 611.2 exp(17.62 t / (243.12 + t))
 * @param temperatureC  [°C] −45 … 60 fitted range
 * @returns pressure [Pa], > 0
 * @source WMO-No. 8, Annex 4.B (DP-1)
 */
export function saturationPressurePa(temperatureC: number): number {
  return MAGNUS.zeroPa * Math.exp((MAGNUS.slopeRatio * temperatureC) / (MAGNUS.offsetC + temperatureC));
}

/**
 * Dew point of air over water [°C].
 * t_d = 243.12 L / (17.62 − L), L = ln(RH e_w / 611.2 Pa)
 * @param airTemperatureC  [°C] −45 … 60 fitted range
 * @param relativeHumidityPct  [%] > 0; above 100 counts as 100
 * @returns dew point [°C], at most the air temperature
 * @source WMO-No. 8, Annex 4.B (DP-1, DP-2)
 */
export function dewPointC(airTemperatureC: number, relativeHumidityPct: number): number {
  const fraction = Math.min(relativeHumidityPct, PERCENT_PCT) / PERCENT_PCT;
  const log = Math.log((fraction * saturationPressurePa(airTemperatureC)) / MAGNUS.zeroPa);
  return (MAGNUS.offsetC * log) / (MAGNUS.slopeRatio - log);
}

/**
 * Whether a surface is so close to the dew point that nothing may be spread on it.
 * true when surface < dew point + 3 K; exactly 3 K above is dry enough
 * @param air  surface temperature [°C] and dew point [°C]
 * @returns true for a condensation hold
 * @source ISO 8502-4 as coating practice quotes it (DP-6, 2nd), boundary inclusive by our choice
 */
export function isCondensing({
  surfaceTemperatureC,
  dewPointC: dewC,
}: {
  surfaceTemperatureC: number;
  dewPointC: number;
}): boolean {
  return surfaceTemperatureC < dewC + CLEARANCE_K;
}
