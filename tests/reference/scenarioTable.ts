// The scenarios of an independent solver as typed rows, and the largest errors of this engine against them.
import {
  calibrateCard,
  type CardConstants,
  type CardStatement,
  type FilmJob,
  solveBatch,
} from '../../server/engine/index.ts';
import reference from '../fixtures/reference/cure-scenarios.json' with { type: 'json' };

type Sample = (typeof reference.scenarios)[number]['expected']['samples'][number];

export interface Scenario {
  readonly name: string;
  readonly card: CardStatement & { readonly name: string };
  readonly job: FilmJob;
  readonly expected: {
    readonly gelMin: number;
    readonly sandMin: number;
    readonly coolMin: number;
    readonly edgeSandMin: number;
    readonly testMin: number;
    readonly peakC: number;
    readonly samples: readonly Sample[];
  };
}

/** What the reference promises: 0.5 % or 0.05 min in time, 0.3 K, 0.005 in conversion. */
export const tolerances = { timeRatio: 0.005, timeMin: 0.05, temperatureK: 0.3, conversion: 0.005 };

const instants = ['gelMin', 'sandMin', 'coolMin', 'edgeSandMin', 'testMin'] as const;
export type InstantName = (typeof instants)[number];

export interface ScenarioErrors {
  readonly name: string;
  /** Error of each instant as a part of what is allowed: 1 is the limit. */
  readonly timeRatios: Record<InstantName, number>;
  readonly timeErrorsMin: Record<InstantName, number>;
  readonly peakK: number;
  readonly sampleK: number;
  readonly sampleConversion: number;
}

export const scenarios = reference.scenarios as unknown as readonly Scenario[];
export const calibrations: Readonly<Record<string, CardConstants>> = reference.calibration;

const calibrated = new Map<string, CardConstants>();

/** The engine's own constants of a scenario's card. */
function constantsOf(card: Scenario['card']): CardConstants {
  const known = calibrated.get(card.name);
  if (known !== undefined) return known;
  const calibration = calibrateCard(card);
  if (calibration.kind === 'rejected') throw new Error(`${card.name} does not calibrate`);
  calibrated.set(card.name, calibration.constants);
  return calibration.constants;
}

/** Solves a scenario from its card on and compares. */
export function errorsOf({ name, card, job, expected }: Scenario): ScenarioErrors {
  const sampleAtMin = expected.samples.map(({ atMin }) => atMin);
  const solution = solveBatch(card, constantsOf(card), job, { sampleAtMin });
  const timeErrorsMin = mapInstants((instant) => (solution[instant] ?? Infinity) - expected[instant]);
  const timeRatios = mapInstants((instant) => {
    const allowedMin = Math.max(tolerances.timeMin, tolerances.timeRatio * expected[instant]);
    return Math.abs(timeErrorsMin[instant]) / allowedMin;
  });
  const pairs = solution.samples.map((sample, index) => [sample, expected.samples[index] as Sample] as const);
  const largest = (...keys: readonly (keyof Sample)[]): number =>
    Math.max(...pairs.flatMap(([mine, theirs]) => keys.map((key) => Math.abs(mine[key] - theirs[key]))));
  return {
    name,
    timeErrorsMin,
    timeRatios,
    peakK: Math.abs(solution.peakC - expected.peakC),
    sampleK: largest('frontC', 'backC', 'panelC'),
    sampleConversion: largest('minConversion', 'maxConversion'),
  };
}

/** All errors as a text table: minutes, kelvin and conversion. */
export function tableOf(rows: readonly ScenarioErrors[]): string {
  const head = ['scenario', 'gel', 'sand', 'cool', 'edge', 'test', 'worst', 'peak K', 'T K', 'alpha'];
  const lines = rows.map((row) => [
    row.name,
    ...instants.map((instant) => row.timeErrorsMin[instant].toFixed(4)),
    `${(Math.max(...Object.values(row.timeRatios)) * 100).toFixed(0)} %`,
    row.peakK.toFixed(3),
    row.sampleK.toFixed(3),
    row.sampleConversion.toFixed(5),
  ]);
  const all = [head, ...lines];
  const widths = head.map((_, column) => Math.max(...all.map((cells) => (cells[column] ?? '').length)));
  const format = (cells: readonly string[]): string =>
    cells
      .map((cell, column) =>
        column === 0 ? cell.padEnd(widths[0] ?? 0) : cell.padStart(widths[column] ?? 0),
      )
      .join('  ');
  return all.map(format).join('\n');
}

function mapInstants(valueOf: (instant: InstantName) => number): Record<InstantName, number> {
  return {
    gelMin: valueOf('gelMin'),
    sandMin: valueOf('sandMin'),
    coolMin: valueOf('coolMin'),
    edgeSandMin: valueOf('edgeSandMin'),
    testMin: valueOf('testMin'),
  };
}
