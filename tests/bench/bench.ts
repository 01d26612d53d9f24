// `npm run bench`: every speed goal in one run, as a table for people and one JSON line. It asserts nothing: a shared
// machine has slow days, so that ratios of what ran side by side and processor time say more than wall time.
import { cpus } from 'node:os';
import { calibrateCard, estimateWindow, solveFilm, splitReasons } from '../../server/engine/index.ts';
import { bytesPerCall } from './allocation.ts';
import { estimateContenders, measureFortyBatches } from './bay.ts';
import { measureCounting } from './counting.ts';
import { type BenchFilm, cheapestFixedStep, errorPct, lampFilm, plainFilm, solveByEngine } from './films.ts';
import { type FixedStep, makeFixedStep } from './fixedStep.ts';
import type { Mesh } from './lineRates.ts';
import type { LoadOptions, Summary } from './loadFigures.ts';
import { loadBare, loadShop } from './loadRun.ts';
import { type Contender, measureRounds, type Pace, ratioOf, ROUNDS_COUNT, type Spread } from './measure.ts';
import { measureReplay } from './replaySpeed.ts';
import { measureLatency, measureStores } from './stores.ts';

/** The coarsest division that has an inside and an outside, with the panel apart: the usual first choice. */
const TWO_CELLS: readonly Mesh[] = [{ layout: 'cells', count: 2 }];
/** Anything that the plain solver might use. */
const ANY_MESH: readonly Mesh[] = [
  ...[2, 3, 4, 5].map((count) => ({ layout: 'nodes', count }) as const),
  ...[1, 2, 3, 4, 5].map((count) => ({ layout: 'cells', count }) as const),
];
/** The largest error of gel, sandable and cool [%]. */
const ACCURACY_PCT = 0.5;
const RIVALS = [
  ['cells', `two cells at ${ACCURACY_PCT} %`],
  ['cheapest', `cheapest at ${ACCURACY_PCT} %`],
  ['finer', `cheapest at ${ACCURACY_PCT / 10} %`],
] as const;
const FILMS_A_TURN_COUNT = 20;
const FINE_TOLERANCE = 1e-5;
const REPLAY_DAYS = 20;
/** A taste of `npm run load`, which takes its ten minutes. */
const SHORT_LOAD: LoadOptions = {
  durationS: 20,
  batchCount: 100,
  screenCount: 50,
  readingsPerS: 200,
  pageCount: 0,
};

const table: string[][] = [];
const report: Record<string, unknown> = {
  node: process.version,
  processor: cpus()[0]?.model,
  rounds: ROUNDS_COUNT,
};

await benchFilms('film', plainFilm);
await benchFilms('filmLamp', lampFilm);
benchAllocation();
await benchQuestions();
await benchStores();
await benchLatency();
await benchForty();
await benchCounting();
await benchReplay();
await benchLoad();
printTable();
process.stdout.write(`${JSON.stringify(report)}\n`);

async function benchFilms(key: string, film: BenchFilm): Promise<void> {
  const cells = cheapestFixedStep(film, { meshes: TWO_CELLS, accuracyPct: ACCURACY_PCT });
  const cheapest = cheapestFixedStep(film, { meshes: ANY_MESH, accuracyPct: ACCURACY_PCT });
  const finer = cheapestFixedStep(film, { meshes: ANY_MESH, accuracyPct: ACCURACY_PCT / 10 });
  const paces = await measureRounds({
    engine: filmsOf(() => solveByEngine(film)),
    cheapest: filmsOf(makeFixedStep(film, cheapest.fixed)),
    cells: filmsOf(makeFixedStep(film, cells.fixed)),
    finer: filmsOf(makeFixedStep(film, finer.fixed)),
  });
  const engineErrorPct = errorPct(solveByEngine(film), film.fine);
  const rivals = { cells, cheapest, finer };
  row(film.name);
  pace('  engine', `error ${engineErrorPct.toFixed(3)} %`, paces.engine);
  const told = RIVALS.map(([rival, name]) => {
    const ratio = ratioOf(paces.engine, paces[rival]);
    pace(`  fixed step, ${name}`, describe(rivals[rival]), paces[rival]);
    row('    engine is faster', 'times', spread(ratio));
    return [rival, { ...summary(paces[rival]), ...rivals[rival], ratio }] as const;
  });
  row('  fine solution', `${errorPct(film.fine, film.reference).toFixed(3)} % from the reference file`);
  report[key] = {
    engine: { ...summary(paces.engine), errorPct: engineErrorPct },
    fixedStep: Object.fromEntries(told),
  };
}

function describe({ fixed, errorPct: error }: { fixed: FixedStep; errorPct: number }): string {
  return `${fixed.count} ${fixed.layout}, ${fixed.stepS} s, error ${error.toFixed(3)} %`;
}

/** Steps allocate nothing when a film of many more steps leaves no more on the heap. */
function benchAllocation(): void {
  const films = [
    ['without lamp', plainFilm, undefined],
    ['with lamp', lampFilm, undefined],
    ['without lamp, many more steps', plainFilm, FINE_TOLERANCE],
  ] as const;
  row('bytes allocated a film');
  const found = films.map(([name, { card, constants, job }, tolerance]) => {
    const options = tolerance === undefined ? {} : { tolerance };
    const { stepCount } = solveFilm(card, constants, job, options);
    const bytes = bytesPerCall(() => solveFilm(card, constants, job, options));
    row(`  ${name}`, `${stepCount} steps`, spread(bytes));
    return { name, stepCount, bytes };
  });
  report['allocatedAFilm'] = found;
}

async function benchQuestions(): Promise<void> {
  const { card, constants, job } = plainFilm;
  const checks = [{ atMin: 17, outcome: 'gums' as const }];
  const paces = await measureRounds({
    window: { count: 1, turn: () => void estimateWindow({ card, constants, job, checks }) },
    reasons: { count: 1, turn: () => void splitReasons({ card, constants, job }) },
    ...estimateContenders(),
    calibration: { count: 1, turn: () => void calibrateCard(card) },
  });
  const windowMs = msOf(paces.window);
  const reasonsMs = msOf(paces.reasons);
  row('one estimate: both films, everything uncertain, reasons');
  row('  a cold bay', 'ms of processor', spread(msOf(paces.plain)));
  row('  after a "gums"', 'ms of processor', spread(msOf(paces.gummed)));
  row('  under a lamp', 'ms of processor', spread(msOf(paces.lamp)));
  row('questions of the engine');
  row('  estimateWindow', 'ms of processor', spread(windowMs));
  row('  splitReasons', 'ms of processor', spread(reasonsMs));
  pace('  calibrateCard', '', paces.calibration);
  report['estimateMs'] = {
    plain: msOf(paces.plain),
    gummed: msOf(paces.gummed),
    lamp: msOf(paces.lamp),
  };
  report['estimateWindowMs'] = windowMs;
  report['splitReasonsMs'] = reasonsMs;
  report['calibrations'] = summary(paces.calibration);
}

async function benchStores(): Promise<void> {
  const { bare, single, together } = await measureStores();
  row('readings stored, synced to disk');
  pace('  bare statement', 'one row a commit', bare);
  pace('  store, one after another', 'one row a commit', single);
  pace('  store, a thousand at once', 'grouped commits', together);
  row('  grouped / bare', 'wall', (together.perWallS.median / bare.perWallS.median).toFixed(2));
  report['readings'] = { bare: summary(bare), single: summary(single), together: summary(together) };
}

async function benchLatency(): Promise<void> {
  const { airMs, changeMs } = await measureLatency();
  row('recordReading to the screens, in memory, one open batch');
  row('  air published', 'ms of wall', spread(airMs));
  row('  window published', 'ms of wall', spread(changeMs));
  report['publishedAfter'] = { airMs, changeMs };
}

async function benchReplay(): Promise<void> {
  const speed = await measureReplay(REPLAY_DAYS);
  row(`replay of ${REPLAY_DAYS} days: one bay, a reading a minute, ${speed.batchCount} batches`);
  row('  simulated / processor', 'times', speed.perCpuRatio.toFixed(0));
  row('  simulated / wall', 'times', speed.perWallRatio.toFixed(0));
  report['replay'] = speed;
}

/** The built server over wire and disk, and then a bare broker and a bare writer under the same readings. */
async function benchLoad(): Promise<void> {
  const shop = await loadShop(SHORT_LOAD);
  const bare = await loadBare(SHORT_LOAD);
  const { readingsPerS, screenCount, batchCount, durationS } = SHORT_LOAD;
  row(`${readingsPerS} readings/s, ${screenCount} screens, ${batchCount} open batches, ${durationS} s`);
  row('  acknowledged and stored once', `${shop.storedCount} of ${shop.sentCount}`);
  const told = [
    ['  PUBACK', shop.ackMs, bare.ackMs],
    ['  reading at the screens', shop.airMs, bare.airMs],
  ] as const;
  for (const [name, ours, theirs] of told)
    row(name, 'ms, median / p99', partsOf(ours), `bare ${partsOf(theirs)}`);
  row('  processor', '% of a core', shop.cpuPct.toFixed(0), `bare ${bare.cpuPct.toFixed(0)}`);
  report['load'] = { options: SHORT_LOAD, shop, bare };
}

function partsOf({ p50Ms, p99Ms }: Summary): string {
  return `${p50Ms.toFixed(1)} / ${p99Ms.toFixed(1)}`;
}

async function benchCounting(): Promise<void> {
  const { bare, counted } = await measureCounting();
  const ratio = ratioOf(bare, counted);
  row('readings through the middle, in memory');
  pace('  without figures', '', bare);
  pace('  with figures', '', counted);
  row('    figures cost', 'times', spread(ratio));
  report['counting'] = { bare: summary(bare), counted: summary(counted), ratio };
}

async function benchForty(): Promise<void> {
  const { passMs, heldUpMs } = await measureFortyBatches();
  row('colder air in a bay with forty open batches, in memory');
  row('  until the last window is published', 'ms of wall', spread(passMs));
  row('  anything else waited at most', 'ms of wall', spread(heldUpMs));
  report['fortyBatches'] = { passMs, heldUpMs };
}

function filmsOf(solve: () => unknown): Contender {
  return {
    count: FILMS_A_TURN_COUNT,
    turn: () => {
      for (let film = 0; film < FILMS_A_TURN_COUNT; film++) solve();
    },
  };
}

function pace(name: string, how: string, { perCpuS, perWallS }: Pace): void {
  row(name, how, `${spread(perCpuS)} /s cpu`, `${spread(perWallS)} /s wall`);
}

function summary({ perCpuS, perWallS }: Pace): Pick<Pace, 'perCpuS' | 'perWallS'> {
  return { perCpuS, perWallS };
}

function msOf({ perCpuS }: Pace): Spread {
  return { median: 1000 / perCpuS.median, low: 1000 / perCpuS.high, high: 1000 / perCpuS.low };
}

/** Median, and the quartiles in brackets. */
function spread({ median, low, high }: Spread): string {
  const digitCount = median >= 100 ? 0 : 2;
  return `${median.toFixed(digitCount)} (${low.toFixed(digitCount)}–${high.toFixed(digitCount)})`;
}

function row(...cells: string[]): void {
  table.push(cells);
}

function printTable(): void {
  const widths = [0, 1].map((column) =>
    Math.max(...table.filter((cells) => cells.length > 1).map((cells) => (cells[column] ?? '').length)),
  );
  const lines = table.map((cells) =>
    cells
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
  process.stdout.write(`median (quartiles) of ${ROUNDS_COUNT} rounds\n${lines.join('\n')}\n`);
}
