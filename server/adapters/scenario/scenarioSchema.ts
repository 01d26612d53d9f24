// A scenario as it stands in a file: shape and kinds only, since bounds of physics are the engine's to judge.
import { z } from 'zod';

/** Scenarios of one file at most. */
const SCENARIOS_COUNT_MAX = 10_000;
/** Points of a series, spells of a lamp, samples and checks at most; what the engine takes may be less. */
const LIST_COUNT_MAX = 20_000;
const CHECKS_COUNT_MAX = 1000;
const SAMPLES_COUNT_MAX = 1000;
/** A name only comes back in the answer. */
const NAME_LENGTH_MAX = 500;
/** Samples, checks and "now" count from mixing; a week is more than any batch needs. */
const AFTER_MIXING_MAX_MIN = 10_080;

const afterMixingMin = z.number().min(0).max(AFTER_MIXING_MAX_MIN);

/** A list whose length is judged before any of its entries, so that a huge one is one rejection. */
function list<T extends z.ZodType>(entry: T, countMax: number) {
  return z.array(z.unknown()).max(countMax).pipe(z.array(entry));
}

const series = list(z.tuple([z.number(), z.number()]), LIST_COUNT_MAX);

const cardSchema = z.strictObject({
  name: z.string().max(NAME_LENGTH_MAX).exactOptional(),
  fill: z.enum(['regular', 'light']),
  atC: z.number(),
  thicknessMm: z.number(),
  hardenerPct: z.number(),
  workingMin: z.number(),
  sandMin: z.number(),
  activationKJPerMol: z.number(),
  inductionActivationKJPerMol: z.number(),
  humidityEffectPer10Pct: z.number(),
});

const jobSchema = z.strictObject({
  substrate: z.enum(['steel', 'aluminium', 'plastic']),
  thicknessMm: z.number(),
  hardenerPct: z.number(),
  airC: series,
  humidityPct: series,
  cavityStartC: z.number().exactOptional(),
  panelStartC: z.number().exactOptional(),
  mixC: z.number().exactOptional(),
  lampMinWPerM2: list(z.tuple([z.number(), z.number(), z.number()]), LIST_COUNT_MAX).exactOptional(),
  movingAir: z.boolean().exactOptional(),
  underlayMm: z.number().exactOptional(),
  timeScale: z.number().exactOptional(),
});

export const scenarioSchema = z.strictObject({
  name: z.string().max(NAME_LENGTH_MAX).exactOptional(),
  card: cardSchema,
  job: jobSchema,
  sampleAtMin: list(afterMixingMin, SAMPLES_COUNT_MAX).exactOptional(),
  nowMin: afterMixingMin.exactOptional(),
  checks: list(
    z.strictObject({ atMin: afterMixingMin, outcome: z.enum(['gums', 'powders']) }),
    CHECKS_COUNT_MAX,
  ).exactOptional(),
  expected: z.unknown().optional(),
});

/** Several scenarios; what the reference file says about itself is carried and not read. */
export const scenarioFileSchema = z.strictObject({
  about: z.unknown().optional(),
  calibration: z.unknown().optional(),
  scenarios: z.array(z.unknown()).min(1).max(SCENARIOS_COUNT_MAX),
});

export type Scenario = z.infer<typeof scenarioSchema>;
