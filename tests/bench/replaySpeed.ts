// How much faster than life a replay is: one bay, a reading a minute, ten batches a day, people who test now and then.
import { parseDiary } from '../../server/adapters/diary/parseDiary.ts';
import type { PlacedLine } from '../../server/adapters/diary/playLine.ts';
import { replayDiary } from '../../server/replayDiary.ts';
import { replayedShop } from '../support/replayedShop.ts';

export interface ReplaySpeed {
  /** Simulated time over processor time, and over wall time. */
  readonly perCpuRatio: number;
  readonly perWallRatio: number;
  readonly factCount: number;
  readonly batchCount: number;
}

const MS_PER_MIN = 60_000;
const MIN_PER_DAY = 24 * 60;
const FIRST_AT = Date.UTC(2026, 0, 12);
const BATCHES_A_DAY_COUNT = 10;
/** The first mix of a day, and how long until the next one [min of the day]. */
const OPENS_MIN = 7 * 60 + 10;
const BETWEEN_MIN = 52;

/** Plays some days of a made-up diary, from its text on. */
export async function measureReplay(dayCount: number): Promise<ReplaySpeed> {
  const texts = makeDiary(dayCount, 20_260_112);
  const shop = replayedShop();
  const cpu = process.cpuUsage();
  const begunMs = performance.now();
  let factCount = 0;
  let batchCount = 0;
  for await (const event of replayDiary(parsedFrom(texts), shop)) {
    if (event.kind === 'refused') throw new Error(`line ${event.lineIndex}: ${event.refusal.sentence}`);
    if (event.kind !== 'fact') continue;
    factCount += 1;
    if (event.fact.type === 'BatchStarted') batchCount += 1;
  }
  const wallMs = performance.now() - begunMs;
  const { user, system } = process.cpuUsage(cpu);
  const simulatedMs = dayCount * MIN_PER_DAY * MS_PER_MIN;
  return {
    perCpuRatio: simulatedMs / ((user + system) / 1000),
    perWallRatio: simulatedMs / wallMs,
    factCount,
    batchCount,
  };
}

/** The lines of a diary: a cold bay that is heated by day, sensor noise, and checks at times that people would choose. */
function makeDiary(dayCount: number, seed: number): string[] {
  const next = makeRandom(seed);
  const lines: { readonly at: number; readonly text: string }[] = [];
  const say = (afterMin: number, what: Record<string, unknown>): void => {
    const at = FIRST_AT + Math.round(afterMin * MS_PER_MIN);
    lines.push({ at, text: JSON.stringify({ at: new Date(at).toISOString(), ...what }) });
  };
  for (let minute = 0; minute < dayCount * MIN_PER_DAY; minute += 1) say(minute, readingAt(minute, next));
  for (let index = 0; index < dayCount * BATCHES_A_DAY_COUNT; index += 1) {
    const day = Math.floor(index / BATCHES_A_DAY_COUNT);
    const mixedMin =
      day * MIN_PER_DAY + OPENS_MIN + (index % BATCHES_A_DAY_COUNT) * BETWEEN_MIN + 10 * next();
    sayBatch({ label: `b${index + 1}`, mixedMin, next }, say);
  }
  // Readings were said first: of one instant they stay first.
  return lines.toSorted((a, b) => a.at - b.at).map(({ text }) => text);
}

/** Between 14 °C before dawn and 20 °C in the afternoon. */
function readingAt(minute: number, next: () => number): Record<string, unknown> {
  const wave = Math.sin((2 * Math.PI * (minute - 9 * 60)) / MIN_PER_DAY);
  return {
    kind: 'reading',
    sensorId: 'bay-1-air',
    airTemperatureC: Math.round((17 + 3 * wave + 0.2 * (next() - 0.5)) * 100) / 100,
    relativeHumidityPct: Math.round((55 - 8 * wave + 2 * (next() - 0.5)) * 10) / 10,
  };
}

interface Mix {
  readonly label: string;
  readonly mixedMin: number;
  readonly next: () => number;
}

function sayBatch(
  { label, mixedMin, next }: Mix,
  say: (afterMin: number, what: Record<string, unknown>) => void,
): void {
  const tell = (afterMin: number, what: Record<string, unknown>): void =>
    say(mixedMin + afterMin, { kind: 'command', batch: label, ...what });
  const readyMin = 24 + 16 * next();
  tell(0, {
    type: 'startBatch',
    cardId: 'body-filler',
    panel: 'Left front door',
    bayId: 'bay-1',
    thicknessMm: [1, 2, 4][Math.floor(3 * next())],
    substrate: 'steel',
  });
  tell(2 + 2 * next(), { type: 'markSpread' });
  if (next() < 0.4) tell(readyMin - 5, { type: 'recordCheck', outcome: 'gums' });
  tell(readyMin, { type: 'recordCheck', outcome: 'powders', firstTry: true });
  tell(readyMin + 12, { type: 'finishSanding' });
}

function* parsedFrom(texts: readonly string[]): Generator<PlacedLine> {
  for (const [index, text] of texts.entries()) {
    const parsed = parseDiary(text);
    if (parsed.kind === 'rejected') throw new Error(`line ${index + 1}: ${JSON.stringify(parsed.rejection)}`);
    yield { lineIndex: index + 1, line: parsed.line };
  }
}

/** Numbers 0 … 1 from a seed (mulberry32, from memory; only its evenness by eye matters here). */
function makeRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
