// Air of a workshop's day, generated from a seed: no public set of indoor air is at hand (REFERENCES DS-4), and what is
// forecast must not be tried on our own simulator alone. Levels are approached first-order (heating on, set points, sun,
// heating off), with a first-order autoregressive wobble, and doors where asked for. Shares nothing with sensors-sim.
export interface RoomPlan {
  readonly seed: number;
  readonly doorCount: number;
  /** A reading each so many minutes. */
  readonly everyMin: number;
  /** Of one reading, normal. */
  readonly noiseC: number;
}

export interface RoomDay {
  /** The air itself, each minute from midnight on. */
  readonly trueC: readonly number[];
  /** What a sensor says of it, in steps of 0.1 °C. */
  readonly told: readonly (readonly [afterMin: number, measurement: number])[];
}

const DAY_MIN = 1440;
/** A wobble of 0.15 K that lasts for 50 minutes. */
const WOBBLE_KEPT_SHARE = 0.98;
const WOBBLE_C = 0.03;

interface Level {
  readonly fromMin: number;
  readonly levelC: number;
  readonly approachMin: number;
}

/** One day of a workshop. */
export function roomDay({ seed, doorCount, everyMin, noiseC }: RoomPlan): RoomDay {
  const draw = drawsFrom(seed);
  const levels = levelsOfDay(draw);
  const doors = Array.from({ length: doorCount }, () => {
    const fromMin = 420 + 600 * draw();
    return { fromMin, untilMin: fromMin + 1 + 5 * draw(), dropC: 3 + 7 * draw() };
  });
  const trueC: number[] = [];
  let roomC = 8 + 6 * draw();
  let wobbleC = 0;
  let dropC = 0;
  let level: Level = { fromMin: 0, levelC: roomC, approachMin: 60 };
  for (let atMin = 0; atMin < DAY_MIN; atMin += 1) {
    level = levels.findLast(({ fromMin }) => fromMin <= atMin) ?? level;
    roomC += (level.levelC - roomC) / level.approachMin;
    const open = doors.filter(({ fromMin, untilMin }) => fromMin <= atMin && atMin < untilMin);
    const pullC = open.reduce((sum, door) => sum + door.dropC, 0);
    dropC += pullC > 0 ? (pullC - dropC) / 1.5 : -dropC / 8;
    wobbleC = WOBBLE_KEPT_SHARE * wobbleC + WOBBLE_C * normalFrom(draw);
    trueC.push(roomC - dropC + wobbleC);
  }
  const told = trueC.flatMap((airC, atMin) =>
    atMin % everyMin === 0
      ? [[atMin, Math.round((airC + noiseC * normalFrom(draw)) * 10) / 10] as const]
      : [],
  );
  return { trueC, told };
}

function levelsOfDay(draw: () => number): Level[] {
  const between = (low: number, high: number): number => low + (high - low) * draw();
  const byDay = Array.from({ length: 3 }, () => ({
    fromMin: between(480, 1000),
    levelC: between(16, 21),
    approachMin: between(40, 140),
  }));
  const heatingOn = { fromMin: between(300, 420), levelC: between(17, 21), approachMin: between(40, 120) };
  const heatingOff = { fromMin: between(1000, 1120), levelC: between(9, 15), approachMin: between(120, 240) };
  return [heatingOn, ...byDay, heatingOff].toSorted((a, b) => a.fromMin - b.fromMin);
}

/** Uniform draws in 0 … 1, the same for the same seed (mulberry32). */
function drawsFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d_2b_79_f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A standard normal draw (Box and Muller). */
function normalFrom(draw: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}
