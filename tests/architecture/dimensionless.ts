// The closed list of names for numbers without a unit. A new word needs a reason here; a number with a unit
// never belongs here, it takes its suffix (units.ts).

/** Words that a name may end in, in singular or plural: `count`, `openCount`, `openCounts`. */
export const dimensionlessWords: Readonly<Record<string, string>> = {
  // Physics and statistics
  conversion: 'α, 0…1',
  fraction: 'a part of a whole, 0…1',
  ratio: 'one quantity over another of the same kind',
  share: 'a part of a whole, 0…1, of counted things',
  slowdown: 'time over time, 1 on the card',
  probability: '0…1',
  score: 'of forecasts by probability, 0…1; a score in minutes takes Min',
  z: 'standard normal variable',
  quantile: 'level, 0…1',
  weight: 'of a member, a node or a term; a mass takes G',
  scale: 'multiplier, 1 changes nothing',
  value: 'an entry of a vector or matrix, or a number whose unit its neighbour states',
  offset: 'in steps or thicknesses; others take their unit',
  tolerance: 'relative, or of a value without dimension; others take their unit',
  sd: 'standard deviation of a logarithm or another dimensionless value; others take their unit after it',
  // Counting and ordering
  count: 'how many',
  index: 'position in a list',
  seed: 'of a random sequence',
  sequence: 'of facts, gapless',
  version: 'of a record, a model or a schema',
  limit: 'how many at most',
  size: 'how many entries; in bytes it takes Bytes',
  length: 'how many entries; of a thing it takes M, Mm or Cm',
  // The machine and the wire
  rate: 'of a clock: shop time over wall time',
  id: 'a number that only names, fixed by a file format',
  port: 'of a network address',
  status: 'of an HTTP answer',
  code: 'of an exit or a packet',
};

/** Whole names with a fixed meaning; they may not end another name. */
export const dimensionlessNames: Readonly<Record<string, string>> = {
  measurement: 'a number whose quantity, and with it the unit, is named beside it',
  min: "a bound of a value; the table's key or a neighbour states the unit",
  max: "a bound of a value; the table's key or a neighbour states the unit",
  bounds: 'both ends, of whatever the caller bounds',
  head: 'the newest sequence of a ledger',
  low: 'lower end, of whatever the caller bounds',
  high: 'upper end, of whatever the caller bounds',
  step: 'what a value is rounded to, in its unit',
  x: 'abscissa of a pure function or a chart point, as the mathematics writes it',
  y: 'ordinate of a pure function or a chart point, as the mathematics writes it',
  minutes: 'the unit is the name, fixed on the wire for reasons',
  recorded: 'how many readings, fixed on the wire',
  repeated: 'how many readings, fixed on the wire',
};

/** Things that are counted: `READINGS_MAX` is how many there may be at most. Only before Max or Min. */
export const countedThings: readonly string[] = [
  'attempts',
  'batches',
  'bytes',
  'changes',
  'characters',
  'connections',
  'digits',
  'facts',
  'iterations',
  'members',
  'messages',
  'nodes',
  'points',
  'readings',
  'requests',
  'retries',
  'rows',
  'sessions',
  'steps',
  'tries',
];

/** Instants whose names do not end in At. */
export const instantNames: Readonly<Record<string, string>> = {
  from: 'first end of an asked span, fixed on the wire',
  to: 'last end of an asked span, fixed on the wire',
};

/** Names that an outside standard fixes, each only in the file that honours it. */
export const foreignNames: Readonly<Record<string, readonly string[]>> = {
  // RFC 8428, section 4.3
  'server/contract/senml.ts': ['t', 'v', 's', 'bt', 'bv', 'bs', 'bver', 'ut'],
};
