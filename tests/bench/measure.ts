// Rounds of measurement: contenders take turns in every round, so that whatever else the machine does hits all of them.

/** What one contender did in one round. */
interface Round {
  readonly perCpuS: number;
  readonly perWallS: number;
}

/** Things done a second, over all rounds. */
export interface Pace {
  readonly perCpuS: Spread;
  readonly perWallS: Spread;
  readonly rounds: readonly Round[];
}

/** Median, and the quartiles around it. */
export interface Spread {
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/** One turn of work, and how many things it does. */
export interface Contender {
  readonly count: number;
  readonly turn: () => void | Promise<void>;
}

export const ROUNDS_COUNT = 11;
/** How long a contender works in a round [ms]: long against the clock and the other processes' slices. */
const ROUND_MS = 150;
const WARM_MS = 150;

/** Measures contenders side by side. */
export async function measureRounds<T extends string>(
  contenders: Readonly<Record<T, Contender>>,
): Promise<Record<T, Pace>> {
  const names = Object.keys(contenders) as T[];
  for (const name of names) await workFor(contenders[name], WARM_MS);
  const rounds = Object.fromEntries(names.map((name) => [name, [] as Round[]])) as Record<T, Round[]>;
  for (let round = 0; round < ROUNDS_COUNT; round++) {
    // Every second round backwards: nobody always comes first.
    for (const name of round % 2 === 0 ? names : names.toReversed())
      rounds[name].push(await workFor(contenders[name], ROUND_MS));
  }
  return Object.fromEntries(names.map((name) => [name, paceOf(rounds[name])])) as Record<T, Pace>;
}

/** Ratio of two contenders' processor time, round by round. */
export function ratioOf(left: Pace, right: Pace): Spread {
  return spreadOf(left.rounds.map((round, index) => round.perCpuS / (right.rounds[index] as Round).perCpuS));
}

/** Median and quartiles of some numbers. */
export function spreadOf(values: readonly number[]): Spread {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (part: number): number => sorted[Math.round(part * (sorted.length - 1))] as number;
  return { median: at(0.5), low: at(0.25), high: at(0.75) };
}

async function workFor({ count, turn }: Contender, durationMs: number): Promise<Round> {
  const cpu = process.cpuUsage();
  const begunMs = performance.now();
  let done = 0;
  let wallMs = 0;
  while (wallMs < durationMs) {
    const pending = turn();
    if (pending !== undefined) await pending;
    done += count;
    wallMs = performance.now() - begunMs;
  }
  const { user, system } = process.cpuUsage(cpu);
  return { perCpuS: (done / (user + system)) * 1e6, perWallS: (done / wallMs) * 1000 };
}

function paceOf(rounds: readonly Round[]): Pace {
  return {
    perCpuS: spreadOf(rounds.map(({ perCpuS }) => perCpuS)),
    perWallS: spreadOf(rounds.map(({ perWallS }) => perWallS)),
    rounds,
  };
}
