// Which faults a seed has and how often each strikes: some are switched off altogether, so that each meets few others.
import { drawBetween, drawChance, drawFrom, makeRandom, type Random } from '../../../sensors-sim/random.ts';

export interface FaultPlan {
  readonly seed: number;
  readonly storeKind: 'memory' | 'sqlite';
  /** How long faults strike: a thin film goes through all its stages within half an hour. */
  readonly faultyMin: number;
  /** Faults of ports, each as a share of the calls. */
  readonly failShare: number;
  readonly crashShare: number;
  readonly slowShare: number;
  readonly slowMaxMs: number;
  /** Spells in which every call fails, or every write. */
  readonly outagesPerHour: number;
  /** Crashes at any moment, beside those at port calls. */
  readonly crashesPerHour: number;
  readonly downMaxMs: number;
  readonly wallStepsPerHour: number;
  /** Of sensors and their messages. */
  readonly repeatShare: number;
  readonly lateShare: number;
  readonly lostAckShare: number;
  readonly absurdShare: number;
  readonly garbageShare: number;
  readonly sensorStepsPerHour: number;
  readonly silencesPerHour: number;
  /** Of screens: requests and live messages. */
  readonly lostRequestShare: number;
  readonly lostAnswerShare: number;
  readonly repeatedRequestShare: number;
  readonly lostLiveShare: number;
  readonly repeatedLiveShare: number;
  readonly cutsPerHour: number;
  readonly latencyMaxMs: number;
  /** Of people. */
  readonly mistakeShare: number;
  readonly hasSetup: boolean;
  /** The air of the bays [°C]. */
  readonly airC: number;
  readonly humidityPct: number;
  /** Whether a sensor stays silent when all other faults have stopped. */
  readonly isSilentAtEnd: boolean;
}

/** One of so many seeds is played on a real file. */
const SQLITE_EVERY_COUNT = 5;
/** How often a fault is switched off for the whole seed. */
const OFF_SHARE = 0.4;

/** The plan of a seed. */
export function planFaults(seed: number): FaultPlan {
  const random = makeRandom(seed, 'plan');
  const isOnFile = seed % SQLITE_EVERY_COUNT === 0;
  const upTo = (most: number): number => someTimes(random, most);
  return {
    seed,
    storeKind: isOnFile ? 'sqlite' : 'memory',
    faultyMin: drawFrom(random, [20, 20, 25, 30, 40]),
    failShare: upTo(0.04),
    // A file is there to be torn.
    crashShare: upTo(0.0008) + (isOnFile ? 0.002 : 0),
    slowShare: upTo(0.2),
    slowMaxMs: drawBetween(random, [5, 2500]),
    outagesPerHour: upTo(6),
    crashesPerHour: upTo(6),
    downMaxMs: drawBetween(random, [100, 120_000]),
    wallStepsPerHour: upTo(4),
    repeatShare: upTo(0.3),
    lateShare: upTo(0.3),
    lostAckShare: upTo(0.2),
    absurdShare: upTo(0.1),
    garbageShare: upTo(0.05),
    sensorStepsPerHour: upTo(3),
    silencesPerHour: upTo(2),
    lostRequestShare: upTo(0.15),
    lostAnswerShare: upTo(0.2),
    repeatedRequestShare: upTo(0.2),
    lostLiveShare: upTo(0.2),
    repeatedLiveShare: upTo(0.2),
    cutsPerHour: upTo(20),
    latencyMaxMs: drawBetween(random, [5, 3000]),
    mistakeShare: upTo(0.3),
    hasSetup: drawChance(random, 0.5),
    airC: drawFrom(random, [8, 14, 19, 21, 23]),
    humidityPct: drawFrom(random, [35, 55, 85]),
    isSilentAtEnd: drawChance(random, 0.15),
  };
}

/** The same day with nothing going wrong. */
export function withoutFaults(plan: FaultPlan): FaultPlan {
  const shares = Object.entries(plan).filter(([name]) => /Share$|PerHour$/.test(name));
  return { ...plan, ...Object.fromEntries(shares.map(([name]) => [name, 0])), latencyMaxMs: 5, downMaxMs: 0 };
}

function someTimes(random: Random, most: number): number {
  const isOff = drawChance(random, OFF_SHARE);
  const drawn = drawBetween(random, [0, most]);
  return isOff ? 0 : drawn;
}
