// The only place where a unit is turned into another: °C, minutes, mm and kJ outside, kelvin and SI inside.

/**
 * The kelvin reading of 0 °C [K].
 */
const ZERO_CELSIUS_K = 273.15;

const SECONDS_PER_MINUTE_S = 60;
const MILLIMETRES_PER_METRE_MM = 1000;
const JOULES_PER_KILOJOULE_RATIO = 1000;

/**
 * Absolute temperature of a Celsius reading [K].
 * T = t + 273.15
 * @param temperatureC  [°C] any finite
 * @returns temperature [K]
 * @source SI definition of the degree Celsius
 */
export function kelvinFromCelsius(temperatureC: number): number {
  return temperatureC + ZERO_CELSIUS_K;
}

/**
 * Celsius reading of an absolute temperature [°C].
 * t = T − 273.15
 * @param temperatureK  [K] any finite
 * @returns temperature [°C]
 * @source SI definition of the degree Celsius
 */
export function celsiusFromKelvin(temperatureK: number): number {
  return temperatureK - ZERO_CELSIUS_K;
}

/**
 * Duration in seconds [s].
 * @param durationMin  [min] any finite
 * @returns duration [s]
 * @source definition of the minute
 */
export function secondsFromMinutes(durationMin: number): number {
  return durationMin * SECONDS_PER_MINUTE_S;
}

/**
 * Duration in minutes [min].
 * @param durationS  [s] any finite
 * @returns duration [min]
 * @source definition of the minute
 */
export function minutesFromSeconds(durationS: number): number {
  return durationS / SECONDS_PER_MINUTE_S;
}

/**
 * Length in metres [m].
 * @param lengthMm  [mm] any finite
 * @returns length [m]
 * @source definition of the millimetre
 */
export function metresFromMillimetres(lengthMm: number): number {
  return lengthMm / MILLIMETRES_PER_METRE_MM;
}

/**
 * Molar energy in joules [J/mol].
 * @param energyKJPerMol  [kJ/mol] any finite
 * @returns energy [J/mol]
 * @source definition of the kilojoule
 */
export function joulesFromKilojoules(energyKJPerMol: number): number {
  return energyKJPerMol * JOULES_PER_KILOJOULE_RATIO;
}
