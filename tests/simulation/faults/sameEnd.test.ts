// Days of simulated shops with faults from which the program recovers end as they do without: the same lines of a diary are
// played twice. At night 24 hours of every scenario there is, by day some hours of two.
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { scenarios } from '../../../sensors-sim/scenarios/scenarioByName.ts';
import { twoBays } from '../../../sensors-sim/scenarios/twoBays.ts';
import { countFor } from '../../support/testSize.ts';
import { differences } from './compareDays.ts';
import { linesOf, type PlayedDay, playLines } from './playTwice.ts';

const SEED = 3;
const PLAY_MS = countFor({ usual: 300_000, nightly: 1_800_000 });
const NAMES = scenarios
  .map(({ name }) => name)
  .filter((name) => /night-setback|lamp-work/.test(name) || isNight());
const FROM_MIN = countFor({ usual: 7 * 60, nightly: 0 });
const UNTIL_MIN = countFor({ usual: 9 * 60 + 30, nightly: 24 * 60 });

function isNight(): boolean {
  return countFor({ usual: 0, nightly: 1 }) === 1;
}

interface Compared {
  readonly differences: readonly string[];
  readonly batchCount: number;
  readonly callCount: number;
  readonly failureCount: number;
  readonly crashCount: number;
}

describe('a day with faults from which the program recovers', () => {
  it.each(NAMES)('of %s ends as it does without them', { timeout: PLAY_MS }, async (name) => {
    const flags = [
      '--import',
      'tsx',
      'tests/simulation/faults/playDayTwice.ts',
      name,
      SEED,
      FROM_MIN,
      UNTIL_MIN,
    ];
    const { stdout } = await promisify(execFile)(process.execPath, flags.map(String));
    const compared = JSON.parse(stdout) as Compared;
    expect(compared.differences).toEqual([]);
    // Two days on which nothing happens, or nothing goes wrong, would be the same too.
    expect(compared.batchCount).toBeGreaterThan(2);
    expect(compared.callCount).toBeGreaterThan(2);
    expect(compared.failureCount).toBeGreaterThan(10);
    expect(compared.crashCount).toBeGreaterThan(5);
  });
});

describe('the comparison of two days', () => {
  const SCENARIO = twoBays;
  const plan = { scenario: SCENARIO, seed: SEED, fromMin: 7 * 60, untilMin: 8 * 60 + 20 };
  const sensorIds = SCENARIO.sensors.map(({ sensorId }) => sensorId);

  const SPOILT: readonly (readonly [what: string, spoil: (day: PlayedDay) => PlayedDay, found: RegExp])[] = [
    ['a reading that is missing', (day) => ({ ...day, air: day.air.slice(1) }), /^readings differ at 0/],
    [
      'an act that is missing',
      (day) => ({ ...day, facts: day.facts.filter(({ type }) => type !== 'BatchSpread') }),
      /acts differ/,
    ],
    [
      'a batch in another stage',
      (day) => ({ ...day, states: day.states.map((state) => ({ ...state, stage: 'wet' })) }),
      /batches differ/,
    ],
    [
      'a call that was never made',
      (day) => ({ ...day, states: day.states.map((state) => ({ ...state, alerts: [] })) }),
      /test\.1: raised at/,
    ],
    [
      'a window that lies elsewhere',
      (day) => ({
        ...day,
        states: day.states.map(({ estimate, ...state }) => ({
          ...state,
          estimate: estimate === null ? null : { ...estimate, p50At: null },
        })),
      }),
      /p50At is/,
    ],
  ];

  it('finds nothing between a day and itself, and finds what is spoilt', { timeout: PLAY_MS }, async () => {
    const day = await playLines(linesOf(plan), { faultSeed: null, sensorIds });
    expect(differences(day, day)).toEqual([]);
    const missed = SPOILT.filter(([, spoil, found]) => !found.test(differences(day, spoil(day)).join('\n')));
    expect(missed.map(([what]) => what)).toEqual([]);
  });
});
