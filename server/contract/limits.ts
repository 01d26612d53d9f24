// The bounds of every number that people or sensors may send: one table for schemas, messages, forms and docs.
// Physical bounds are design MODEL §6; the rest is chosen so that a slip of the finger is caught.

export interface Limit {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

export const LIMITS = {
  airTemperatureC: { min: -40, max: 60, unit: '°C' },
  outdoorTemperatureC: { min: -40, max: 60, unit: '°C' },
  panelTemperatureC: { min: -40, max: 120, unit: '°C' },
  relativeHumidityPct: { min: 0, max: 104, unit: '%' },
  thicknessMm: { min: 0.1, max: 12, unit: 'mm' },
  hardenerPct: { min: 0.5, max: 5, unit: '%' },
  underlayMm: { min: 0, max: 12, unit: 'mm' },
  remainingWorkMin: { min: 0, max: 10_080, unit: 'min' },
  distanceCm: { min: 10, max: 200, unit: 'cm' },
  forMin: { min: 0, max: 240, unit: 'min' },
  fluxWPerM2: { min: 0, max: 3000, unit: 'W/m²' },
  testProbabilityPct: { min: 60, max: 95, unit: '%' },
  spreadByS: { min: 0, max: 600, unit: 's' },
  waitingMin: { min: 1, max: 240, unit: 'min' },
  slowingMin: { min: 1, max: 60, unit: 'min' },
  slowingPct: { min: 5, max: 100, unit: '%' },
  sensorQuietMin: { min: 2, max: 240, unit: 'min' },
  beadGramsPer10Cm: { min: 0.1, max: 30, unit: 'g' },
  airTemperatureOffsetK: { min: -10, max: 10, unit: 'K' },
  relativeHumidityOffsetPct: { min: -20, max: 20, unit: '%' },
} as const satisfies Record<string, Limit>;

export type LimitedField = keyof typeof LIMITS;

/** The longest text of a kind, in characters. */
export const TEXT_MAX = { id: 64, name: 80, note: 500, initials: 8 } as const;

/** Most readings in one message; a gateway that was offline for a day at one a minute fits. */
export const READINGS_MAX = 2000;
/** Largest body of a request [bytes]. */
export const BODY_BYTES_MAX = 262_144;
/** Says what a limited field accepts, for people: "0.1 … 12 mm". */
export function describeLimit(field: LimitedField): string {
  const limit: Limit = LIMITS[field];
  return `${limit.min} … ${limit.max} ${limit.unit}`;
}

/** Whether a name has an entry in the table. */
export function isLimitedField(field: string): field is LimitedField {
  return Object.hasOwn(LIMITS, field);
}
