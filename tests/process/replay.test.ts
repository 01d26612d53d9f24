// `npm run replay` as it is built: the same facts each time, at the instants of the shop's clock, and one line for bad input.
import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { BODY_BYTES_MAX } from '../../server/contract/index.ts';
import { makeTempFolder } from '../support/runServer.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const folder = makeTempFolder();

interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** A fact as it is printed. */
interface Printed {
  readonly sequence: number;
  readonly type: string;
  readonly at: string;
  readonly recordedAt: string;
  readonly batchId: string | null;
  readonly batch: string | null;
  readonly body: Readonly<Record<string, unknown>>;
}

/** Runs the built command in a folder of its own, with a text on standard input. */
async function replay(args: readonly string[], input = ''): Promise<Ended> {
  const child = spawn(process.execPath, [join(ROOT, 'dist/server/replay.js'), ...args], { cwd: folder });
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

async function factsOf(text: string, ...args: string[]): Promise<Printed[]> {
  const { code, stdout, stderr } = await replay(['-', ...args], text);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return printed(stdout);
}

function printed(stdout: string): Printed[] {
  return stdout
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line) as Printed);
}

function write(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}

const OPENS_AT = Date.UTC(2026, 0, 12, 7);

function isoAt(afterMin: number): string {
  return new Date(OPENS_AT + afterMin * 60_000).toISOString();
}

function reading(afterMin: number, airTemperatureC: number, more: object = {}): string {
  const line = { at: isoAt(afterMin), kind: 'reading', sensorId: 'bay-1-air', airTemperatureC, ...more };
  return `${JSON.stringify(line)}\n`;
}

/** A reading a minute of a room that stays as warm as it is, to within what no film feels. */
function readings(fromMin: number, untilMin: number, airC = 20): string {
  let text = '';
  for (let minute = fromMin; minute <= untilMin; minute += 1)
    text += reading(minute, airC + (minute % 2) / 100);
  return text;
}

function command(afterMin: number, batch: string, what: object): string {
  return `${JSON.stringify({ at: isoAt(afterMin), kind: 'command', batch, ...what })}\n`;
}

function start(afterMin: number, batch: string, more: object = {}): string {
  return command(afterMin, batch, {
    type: 'startBatch',
    cardId: 'body-filler',
    panel: 'Roof',
    bayId: 'bay-1',
    thicknessMm: 2,
    substrate: 'steel',
    ...more,
  });
}

function truth(afterMin: number, batch: string, readyMin: number | null): string {
  const readyAt = readyMin === null ? null : isoAt(readyMin);
  return `${JSON.stringify({ at: isoAt(afterMin), kind: 'truth', batch, readyAt })}\n`;
}

function ofType(facts: readonly Printed[], type: string, batch?: string): Printed[] {
  return facts.filter((fact) => fact.type === type && (batch === undefined || fact.batch === batch));
}

const DAY =
  readings(0, 9) +
  start(10, 'first') +
  readings(10, 12) +
  start(13, 'Bay 1 / no. 2', { thicknessMm: 4, mixedAt: isoAt(12) }) +
  command(13, 'first', { type: 'markSpread' }) +
  readings(14, 40) +
  command(40.5, 'first', { type: 'recordCheck', outcome: 'powders', firstTry: true, by: 'AB' }) +
  command(52, 'first', { type: 'finishSanding' }) +
  command(53, 'Bay 1 / no. 2', { type: 'scrap' });

describe('the replay command', () => {
  it('prints every fact in the order of the ledger, with ISO instants and the label of its batch', async () => {
    const facts = await factsOf(DAY);
    expect(facts.map(({ sequence }) => sequence)).toEqual(facts.map((_, index) => index + 1));
    expect(facts.filter(({ batch }) => batch === null).map(({ type }) => type)).toEqual(
      // The last reading lies thirteen minutes back when the day ends.
      [...Array.from({ length: 4 }, () => 'CardCalibrated'), 'SensorQuiet', 'AlertRaised'],
    );
    expect(ofType(facts, 'BatchStarted').map(({ at, recordedAt, batch }) => [at, recordedAt, batch])).toEqual(
      [
        [isoAt(10), isoAt(10), 'first'],
        [isoAt(12), isoAt(13), 'Bay 1 / no. 2'],
      ],
    );
    expect(ofType(facts, 'CheckRecorded')).toMatchObject([
      { at: isoAt(40.5), batch: 'first', body: { outcome: 'powders', firstTry: true } },
    ]);
    for (const { batchId, batch } of facts) expect(batchId === null).toBe(batch === null);
    const [estimate] = ofType(facts, 'EstimateChanged', 'first');
    expect(estimate?.body).toMatchObject({ estimate: { computedAt: isoAt(10), airTemperatureC: 20.01 } });
  });

  it('prints the same to the byte each time, from a file and from standard input', async () => {
    const fromFile = await replay([write('day.jsonl', DAY)]);
    expect(fromFile.stdout.split('\n').length).toBeGreaterThan(15);
    expect(await replay(['-'], DAY)).toEqual(fromFile);
    expect(await replay([write('crlf.jsonl', `\uFEFF${DAY.replaceAll('\n', '\r\n')}\r\n`)])).toEqual(
      fromFile,
    );
  });

  it('raises alerts at their own instants between the lines, and goes on after the last one', async () => {
    const facts = await factsOf(readings(0, 10) + start(10.25, 'b'));
    const inForce = (before: Printed): Record<string, string> =>
      ofType(facts, 'EstimateChanged')
        .filter(({ sequence }) => sequence < before.sequence)
        .at(-1)?.body['estimate'] as Record<string, string>;
    const alerts = ofType(facts, 'AlertRaised');
    expect(alerts.map(({ body }) => body['kind'])).toEqual(['spreadBy', 'sensorQuiet', 'test', 'waiting']);
    const [spreadBy, sensorQuiet, test, waiting] = alerts as [Printed, Printed, Printed, Printed];
    expect([sensorQuiet.at, sensorQuiet.batch]).toEqual([isoAt(20), null]);
    expect(Date.parse(spreadBy.at)).toBe(Date.parse(inForce(spreadBy)['kickedAt'] as string) - 90_000);
    expect(test.at).toBe(inForce(test)['testFromAt']);
    expect(Date.parse(waiting.at)).toBeGreaterThan(Date.parse(test.at) + 10 * 60_000);
    for (const { at, recordedAt } of alerts) expect(recordedAt).toBe(at);
    // Nobody speaks and nobody tests for twelve hours: there is little to say about that.
    expect(facts.length).toBeLessThan(25);
    const last = facts.at(-1) as Printed;
    expect(Date.parse(last.at)).toBeLessThanOrEqual(OPENS_AT + (10.25 + 12 * 60) * 60_000);
  });

  it('prints only the facts that are asked for', async () => {
    const all = await factsOf(DAY);
    const some = await factsOf(DAY, '--facts', 'AlertRaised,BatchStarted');
    expect(some).toEqual(all.filter(({ type }) => ['AlertRaised', 'BatchStarted'].includes(type)));
    expect(some.length).toBeGreaterThan(2);
  });

  it('takes back the latest act of a batch, or the one that is named', async () => {
    const facts = await factsOf(
      readings(0, 10) +
        start(10, 'a') +
        command(11, 'a', { type: 'markSpread' }) +
        start(12, 'b') +
        command(13, 'a', { type: 'undo' }) +
        command(14, 'a', { type: 'markSpread' }) +
        command(15, 'b', { type: 'scrap' }),
    );
    const [first, second] = ofType(facts, 'BatchSpread', 'a') as [Printed, Printed];
    expect(ofType(facts, 'FactUndone')).toMatchObject([
      { batch: 'a', body: { factSequence: first.sequence } },
    ]);
    expect(second.at).toBe(isoAt(14));
    const named = command(16, 'a', { type: 'undo', factSequence: 7 });
    const [undone] = ofType(
      await factsOf(readings(0, 10) + start(10, 'a') + command(11, 'a', { type: 'markSpread' }) + named),
      'FactUndone',
    );
    expect(undone).toMatchObject({ at: isoAt(16), body: { factSequence: 7 } });
  });

  it('plays on over a day without readings', async () => {
    const dayMin = 24 * 60;
    const facts = await factsOf(
      readings(0, 10) +
        start(10, 'a') +
        reading(11 + dayMin, 12) +
        start(12 + dayMin, 'b') +
        reading(13 + dayMin, 12),
    );
    expect(ofType(facts, 'BatchStarted').map(({ at }) => at)).toEqual([isoAt(10), isoAt(12 + dayMin)]);
    expect(ofType(facts, 'AlertRaised', 'a').length).toBeGreaterThan(1);
    expect(
      ofType(facts, 'EstimateChanged', 'a').some(({ body }) => JSON.stringify(body).includes('air-stale')),
    ).toBe(true);
    expect(ofType(facts, 'EstimateChanged', 'b')[0]).toMatchObject({
      body: { estimate: { airTemperatureC: 12 } },
    });
  });

  it('tells what the shop would not have, each with its line, and plays on', async () => {
    const file = write(
      'refused.jsonl',
      readings(0, 1) +
        start(2, 'a') +
        command(2.5, 'a', { type: 'recordCheck', outcome: 'gums' }) +
        start(3, 'x', { cardId: 'none' }) +
        command(4, 'x', { type: 'markSpread' }) +
        command(5, 'x', { type: 'undo' }) +
        start(5, 'y', { bayId: 'bay-9' }) +
        command(6, 'a', { type: 'scrap' }),
    );
    const { code, stdout, stderr } = await replay([file]);
    expect(code).toBe(0);
    expect(stderr.split('\n').map((line) => line.split(': ').slice(0, 3).join(': '))).toEqual([
      'refused.jsonl:4: refused: stage-wet',
      'refused.jsonl:5: refused: unknown-card',
      'refused.jsonl:6: refused: unknown-batch',
      'refused.jsonl:7: refused: nothing-to-undo',
      'refused.jsonl:8: refused: unknown-bay',
      'refused.jsonl: 5 refused',
      '',
    ]);
    expect(ofType(printed(stdout), 'BatchScrapped')).toMatchObject([{ batch: 'a', at: isoAt(6) }]);
  });

  it('adds up on standard error what became of batches whose truth is told', async () => {
    const { stderr, stdout } = await replay(
      ['-', '--facts', 'AlertRaised'],
      DAY + truth(60, 'first', 37) + truth(60, 'Bay 1 / no. 2', null),
    );
    expect(stderr.split('\n')[0]).toMatch(
      /^2 batches with a true time +batches +pinball +CRPS +inside P10–P90$/,
    );
    expect(stderr).toMatch(/^ {2}window at mixing +1 +\d+\.\d\d min +\d+\.\d\d min +\d+\.\d %$/m);
    expect(stderr).toMatch(/^ {2}fixed timer +1 +\d+\.\d\d min +\d+\.\d\d min$/m);
    expect(stderr).toMatch(/^ {2}"test" was called when it was ready +\d+ +\d+\.\d %$/m);
    expect(printed(stdout).map(({ type }) => type)).toContain('AlertRaised');
  });

  it('is what `npm run replay` runs, built first, and touches no data folder', () => {
    const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    expect([scripts['prereplay'], scripts['replay']]).toEqual([
      'npm run --silent build',
      'node --max-semi-space-size=64 dist/server/replay.js',
    ]);
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('takes the shop of another config, and learning from its flag', async () => {
    const config = JSON.parse(readFileSync(join(ROOT, 'config/shop.example.json'), 'utf8')) as Record<
      string,
      unknown
    >;
    mkdirSync(join(folder, 'other'));
    write('other/cards.json', readFileSync(join(ROOT, 'config/cards.json'), 'utf8'));
    write(
      'other/shop.json',
      JSON.stringify({ ...config, alerts: { testProbabilityPct: 80, spreadByS: 60, waitingMin: 15 } }),
    );
    const facts = await factsOf(
      readings(0, 10) + start(10.25, 'b'),
      '--config',
      'other/shop.json',
      '--learning',
      'off',
    );
    const spreadBy = ofType(facts, 'AlertRaised')[0] as Printed;
    const [first] = ofType(facts, 'EstimateChanged') as [Printed];
    const { kickedAt } = first.body['estimate'] as Record<string, string>;
    expect(Math.abs(Date.parse(spreadBy.at) - Date.parse(String(kickedAt)) + 60_000)).toBeLessThan(15_000);
  });
});

describe('a diary that cannot be played', () => {
  const long = `${JSON.stringify({ at: isoAt(1), kind: 'reading', note: 'x'.repeat(BODY_BYTES_MAX) })}\n`;
  it.each<[string, string, string]>([
    ['broken JSON', `${readings(0, 3)}{"at"\n`, ':5: is not JSON ('],
    ['time that runs back', readings(0, 3) + reading(2.5, 20), ':5: at: lies before the line above it ('],
    [
      'an unknown kind',
      `${readings(0, 0)}\n{"at":"${isoAt(1)}","kind":"note"}\n`,
      ':3: kind: is not one of the choices; allowed: reading, command, truth',
    ],
    [
      'an unknown label',
      readings(0, 1) + command(2, 'b7', { type: 'scrap' }),
      ':3: batch: "b7" was not started above; allowed: ',
    ],
    [
      'a label started twice',
      readings(0, 0) + start(1, 'b') + start(2, 'b'),
      ':3: batch: "b" was started above; allowed: ',
    ],
    [
      'a line without end',
      readings(0, 1) + long + readings(2, 3),
      `:3: is too long; allowed: at most ${BODY_BYTES_MAX} bytes`,
    ],
    ['nothing in it', '', ': is empty; allowed: '],
    ['blank lines only', '\n \n', ': is empty; allowed: '],
    [
      'a wrong field in its last line',
      readings(0, 3) + start(5, 'b', { thicknessMm: 99 }).trimEnd(),
      ':5: thicknessMm: is too large; allowed: 0.1 … 12 mm',
    ],
  ])('is told by one line before anything is played: %s', async (_what, text, expected) => {
    const file = write('bad.jsonl', text);
    for (const [name, ended] of [
      [file, await replay([file])],
      ['-', await replay(['-'], text)],
    ] as const) {
      expect(ended).toMatchObject({ code: 2, stdout: '' });
      expect(ended.stderr.slice(0, name.length + expected.length)).toBe(name + expected);
      expect(ended.stderr.split('\n')).toHaveLength(2);
    }
  });

  it('is told what it is not: text, or a file', async () => {
    writeFileSync(join(folder, 'latin.jsonl'), Buffer.from([0x7b, 0xe9, 0x7d, 0x0a]));
    expect(await replay(['latin.jsonl'])).toEqual({
      code: 2,
      stdout: '',
      stderr: 'latin.jsonl:1: is not UTF-8; allowed: UTF-8\n',
    });
    expect(await replay(['none.jsonl'])).toEqual({
      code: 2,
      stdout: '',
      stderr: 'none.jsonl: cannot be read (ENOENT)\n',
    });
    expect(await replay(['.'])).toEqual({ code: 2, stdout: '', stderr: '.: cannot be read (EISDIR)\n' });
  });

  it.each<[string, string[], RegExp]>([
    ['no diary', [], /^sandby: no diary is named; usage: /],
    ['two diaries', ['a', 'b'], /^sandby: one diary at a time, not also "b"; usage: /],
    ['an unknown flag', ['a', '--speed', '3'], /^sandby: .*--speed.*usage: /],
    [
      'a type that is none',
      ['a', '--facts', 'AlertRaised,Alert'],
      /^sandby: --facts: "Alert" is no type of fact; allowed: SensorSeen, /,
    ],
    ['learning by halves', ['a', '--learning', 'half'], /^sandby: --learning is "half"; allowed: on, off$/],
    ['a config that is not there', ['a', '--config', 'none.json'], /^sandby: none\.json: cannot be read/],
  ])('is not even opened with %s', async (_what, args, expected) => {
    const { code, stdout, stderr } = await replay(args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(
      expected.source.endsWith('$') ? new RegExp(expected.source.replace(/\$$/, '\\n$')) : expected,
    );
  });
});
