// `npm run forecast` as it is built: the reference scenarios within their tolerances, and one line for bad input.
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { FILE_BYTES_MAX } from '../../server/adapters/scenario/readScenarioText.ts';
import type { Forecast } from '../../server/forecastScenario.ts';
import { type Scenario, scenarios, tolerances } from '../reference/scenarioTable.ts';
import { makeTempFolder } from '../support/runServer.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const REFERENCE = join(ROOT, 'tests/fixtures/reference/cure-scenarios.json');
const INSTANTS = ['gelMin', 'sandMin', 'coolMin', 'edgeSandMin', 'testMin'] as const;
const folder = makeTempFolder();

interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built command, with a text on standard input. */
async function forecast(files: readonly string[], input = ''): Promise<Ended> {
  const child = spawn(process.execPath, [join(ROOT, 'dist/server/forecast.js'), ...files], { cwd: folder });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (chunk: Buffer) => (stdout += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
  // A command that ends before it has read all closes the pipe under the writer.
  child.stdin.on('error', () => undefined);
  child.stdin.end(input);
  const code = await new Promise<number | null>((done) => child.once('close', done));
  return { code, stdout, stderr };
}

/** The forecasts that a run printed, one a line. */
function forecastsOf({ code, stdout, stderr }: Ended): Forecast[] {
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return stdout
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as Forecast);
}

function writeScenario(name: string, content: unknown): string {
  writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
  return name;
}

const steady = scenarios[0] as Scenario;

/** The steady scenario with parts of card and job changed, and fields of its own. */
function steadyWith(change: { card?: object; job?: object; more?: object }): object {
  const { name } = steady;
  return {
    name,
    card: { ...steady.card, ...change.card },
    job: { ...steady.job, ...change.job },
    ...change.more,
  };
}

describe('the forecast command', () => {
  it('meets every reference scenario, in their order and within their tolerances', async () => {
    const asked = scenarios.map((scenario) => ({
      ...scenario,
      sampleAtMin: scenario.expected.samples.map(({ atMin }) => atMin),
    }));
    const forecasts = forecastsOf(await forecast([writeScenario('all.json', { scenarios: asked })]));
    expect(forecasts.map(({ name }) => name)).toEqual(scenarios.map(({ name }) => name));
    for (const [index, { name, expected }] of scenarios.entries()) {
      const found = forecasts[index] as Forecast;
      for (const instant of INSTANTS) {
        const allowedMin = Math.max(tolerances.timeMin, tolerances.timeRatio * expected[instant]);
        expect(
          Math.abs((found[instant] ?? Infinity) - expected[instant]),
          `${name}: ${instant}`,
        ).toBeLessThan(allowedMin);
      }
      expect(Math.abs(found.peakC - expected.peakC), `${name}: peakC`).toBeLessThan(tolerances.temperatureK);
      expect(found.samples.map(({ atMin }) => atMin)).toEqual(expected.samples.map(({ atMin }) => atMin));
      for (const [at, theirs] of expected.samples.entries()) {
        const mine = found.samples[at] as (typeof found.samples)[number];
        for (const key of ['frontC', 'backC', 'panelC'] as const)
          expect(Math.abs(mine[key] - theirs[key]), `${name}: ${key}`).toBeLessThan(tolerances.temperatureK);
        for (const key of ['minConversion', 'maxConversion'] as const)
          expect(Math.abs(mine[key] - theirs[key]), `${name}: ${key}`).toBeLessThan(tolerances.conversion);
      }
    }
  });

  it('reads the reference file itself, several files and standard input, and prints in their order', async () => {
    const one = writeScenario('one.json', steadyWith({ more: { name: 'one' } }));
    const forecasts = forecastsOf(
      await forecast([one, '-', REFERENCE], JSON.stringify(steadyWith({ more: { name: 'typed' } }))),
    );
    expect(forecasts.map(({ name }) => name)).toEqual(['one', 'typed', ...scenarios.map(({ name }) => name)]);
    expect(Object.keys(forecasts[0] as Forecast)).toEqual([
      'name',
      ...INSTANTS,
      'peakC',
      'p10Min',
      'p50Min',
      'p90Min',
      'samples',
    ]);
  });

  it('gives null where there is none: no name, and a film that stalls in the cold', async () => {
    const { card, job } = steady;
    const [frozen] = forecastsOf(
      await forecast(['-'], JSON.stringify({ card, job: { ...job, airC: [[0, -20]] } })),
    );
    expect(frozen).toMatchObject({ name: null, sandMin: null, coolMin: null, testMin: null, p50Min: null });
  });

  it('moves the window by checks and leaves the median film alone', async () => {
    const checks = [{ atMin: 19, outcome: 'gums' }];
    const file = { scenarios: [steadyWith({}), steadyWith({ more: { checks, nowMin: 19, expected: 'x' } })] };
    const [plain, gummed] = forecastsOf(await forecast(['-'], JSON.stringify(file))) as [Forecast, Forecast];
    expect(plain.p10Min as number).toBeLessThan(plain.p50Min as number);
    expect(plain.p50Min as number).toBeLessThan(plain.p90Min as number);
    expect(gummed.p50Min as number).toBeGreaterThan((plain.p50Min as number) + 1);
    const median = ({ p10Min: _p10Min, p50Min: _p50Min, p90Min: _p90Min, ...rest }: Forecast) => rest;
    expect(median(gummed)).toEqual(median(plain));
  });

  it('adds up lamps that overlap, and reads past a byte order mark', async () => {
    const lamps = (...lampMinWPerM2: number[][]) => steadyWith({ job: { lampMinWPerM2 } });
    const file = { scenarios: [lamps([4, 8, 300], [4, 8, 200]), lamps([4, 8, 500])] };
    const [both, one] = forecastsOf(await forecast(['-'], `\u{feff}${JSON.stringify(file)}`));
    if (both === undefined || one === undefined) throw new Error('two answers');
    const none = { p10Min: null, p50Min: null, p90Min: null };
    expect({ ...both, ...none }).toEqual({ ...one, ...none });
    // Sums of fluxes are rounded otherwise than one flux: windows agree to a part in a thousand.
    expect(Math.abs(Number(both.p50Min) / Number(one.p50Min) - 1)).toBeLessThan(0.001);
  });

  it('takes air ahead of nowMin as the forecast that the file states', async () => {
    const airC = [
      [0, 20],
      [5, 20],
      [15, 10],
    ];
    const file = {
      scenarios: [steadyWith({ job: { airC } }), steadyWith({ job: { airC }, more: { nowMin: 5 } })],
    };
    const [without, withNow] = forecastsOf(await forecast(['-'], JSON.stringify(file)));
    if (without === undefined || withNow === undefined) throw new Error('two answers');
    const widthOf = ({ p10Min, p90Min }: Forecast): number => Number(p90Min) - Number(p10Min);
    const none = { p10Min: null, p50Min: null, p90Min: null };
    expect({ ...withNow, ...none }).toEqual({ ...without, ...none });
    // What is only foretold is less sure.
    expect(widthOf(withNow)).toBeGreaterThan(widthOf(without));
  });

  it('stays quiet when whoever reads it stops early', async () => {
    const child = spawn(process.execPath, [join(ROOT, 'dist/server/forecast.js'), REFERENCE]);
    child.stdout.destroy();
    let stderr = '';
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
    const code = await new Promise<number | null>((done) => child.once('close', done));
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  });

  it('is what `npm run forecast` runs, built first', () => {
    const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    expect(scripts['preforecast']).toBe('npm run --silent build');
    expect(scripts['forecast']).toBe('node dist/server/forecast.js');
  });
});

describe('bad input of the forecast command', () => {
  const bad = (change: Parameters<typeof steadyWith>[0]): string => JSON.stringify(steadyWith(change));

  it.each<[what: string, input: string, says: RegExp]>([
    ['an empty input', '', /^-: is empty/],
    ['what is no JSON, on several lines', '{\n"card":\n}', /^-: is not JSON \(/],
    ['an unknown key with a line break in it', '{"a\\nb":1}', /^-: /],
    ['a huge input', ' '.repeat(FILE_BYTES_MAX + 1), /^-: is larger than \d+ bytes$/],
    ['a scenario that is no object', '{"scenarios":[3]}', /^-: scenarios\.0: is not an object/],
    [
      'air that is too hot',
      bad({ job: { airC: [[0, 61]] } }),
      /^-: job\.airC\.0\.1: is 61, above 60; allowed: -40 to 60 °C/,
    ],
    [
      'a series out of order',
      bad({
        job: {
          airC: [
            [5, 20],
            [4, 20],
          ],
        },
      }),
      /^-: job\.airC\.1\.0: is minute 4, before minute 5/,
    ],
    ['an empty series', bad({ job: { humidityPct: [] } }), /^-: job\.humidityPct: has no point/],
    [
      'humidity beyond saturation',
      bad({ job: { humidityPct: [[0, 104.5]] } }),
      /^-: job\.humidityPct\.0\.1: .*above 104/,
    ],
    [
      'a point a month away',
      bad({
        job: {
          airC: [
            [0, 20],
            [50_000, 20],
          ],
        },
      }),
      /^-: job\.airC\.1\.0: .*above 10080/,
    ],
    ['a film too thick', bad({ job: { thicknessMm: 12.1 } }), /^-: job\.thicknessMm: .*above 12/],
    ['no hardener', bad({ job: { hardenerPct: 0 } }), /^-: job\.hardenerPct: .*below 0\.5/],
    [
      'a lamp too strong',
      bad({ job: { lampMinWPerM2: [[0, 5, 3001]] } }),
      /^-: job\.lampMinWPerM2\.0\.2: .*above 3000/,
    ],
    [
      'a lamp that ends before it begins',
      bad({ job: { lampMinWPerM2: [[5, 4, 900]] } }),
      /^-: job\.lampMinWPerM2\.0\.1: ends/,
    ],
    [
      'lamps without end',
      bad({ job: { lampMinWPerM2: Array.from({ length: 201 }, () => [0, 5, 9]) } }),
      /^-: job\.lampMinWPerM2: has 201 spells/,
    ],
    ['a time scale of nothing', bad({ job: { timeScale: 0 } }), /^-: job\.timeScale: /],
    ['an underlay of less than nothing', bad({ job: { underlayMm: -1 } }), /^-: job\.underlayMm: /],
    [
      'air by the tenth of a second',
      bad({ job: { airC: Array.from({ length: 15_001 }, (_, i) => [(i + 1) / 600, 20]) } }),
      /^-: job: has 15001 points/,
    ],
    ['a card for the desert', bad({ card: { atC: 46 } }), /^-: card\.atC: is 46, above 45/],
    [
      'a card that sands before it kicks',
      bad({ card: { workingMin: 20 } }),
      /^-: card\.workingMin: .*not below the sanding time/,
    ],
    [
      'a card too quick to harden',
      bad({ card: { workingMin: 0.5, sandMin: 60 } }),
      /^-: card\.workingMin: .*too short/,
    ],
    [
      'a check from the future',
      bad({ more: { nowMin: 5, checks: [{ atMin: 6, outcome: 'gums' }] } }),
      /^-: checks\.0\.atMin: .*after nowMin/,
    ],
  ])('is one line on stderr, nothing on stdout and exit 2: %s', async (_what, input, says) => {
    const { code, stdout, stderr } = await forecast(['-'], input);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^[^\n]+\n$/);
    expect(stderr.trimEnd()).toMatch(says);
  });

  it('prints nothing of the good files beside a bad one, and names the bad one with the place in it', async () => {
    const good = writeScenario('good.json', steadyWith({}));
    const second = { scenarios: [steadyWith({}), steadyWith({ card: { workingMin: 18 } })] };
    const { code, stdout, stderr } = await forecast([good, writeScenario('second.json', second)]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^second\.json: scenarios\.1\.card\.workingMin: is 18 min, not below[^\n]*\n$/);
  });

  it.each<[what: string, flags: string[], says: RegExp]>([
    ['a file that is not there', ['missing.json'], /^missing\.json: cannot be read \(ENOENT\)\n$/],
    ['a folder', ['folder'], /^folder: cannot be read \(EISDIR\)\n$/],
    ['bytes that are no text', ['latin.json'], /^latin\.json: is not UTF-8\n$/],
    ['a device without end', ['/dev/zero'], /^\/dev\/zero: is larger than \d+ bytes\n$/],
    ['no file at all', [], /^sandby: no file is named; usage: [^\n]+\n$/],
    ['a flag that is none', ['--at', 'x'], /^sandby: [^\n]+\n$/],
  ])('is one line that names it: %s', async (_what, flags, says) => {
    mkdirSync(join(folder, 'folder'), { recursive: true });
    writeFileSync(join(folder, 'latin.json'), Buffer.from([0x7b, 0xe9, 0x7d]));
    const { code, stdout, stderr } = await forecast(flags);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(says);
  });
});
