// Every parser of files and messages by itself against malformed input: it answers with a value or a rejection that names a
// path, and throws nothing else. What was found once is asked again each time (corpus/files.json).
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ConfigError, readConfig } from '../../server/adapters/config/readConfig.ts';
import { openDiary } from '../../server/adapters/diary/openDiary.ts';
import { parseDiary } from '../../server/adapters/diary/parseDiary.ts';
import { parseScenarios } from '../../server/adapters/scenario/parseScenarios.ts';
import { instantFromMs, parseReadings, type Rejection } from '../../server/contract/index.ts';
import { countFor } from '../support/testSize.ts';
import { GROWTH_MAX_BYTES, heapBytes } from './heap.ts';
import { broken, malformedBytes, malformedText } from './malformed.ts';
import { DIARY_LINES, SENML_PACK } from './samples.ts';

const RUNS_COUNT = countFor({ usual: 300, nightly: 10_000 });
const FUZZ_MS = countFor({ usual: 120_000, nightly: 1_800_000 });
const SEED = 20_260_112;
const NOW_AT = instantFromMs(Date.parse('2026-01-12T07:00:00Z'));
const CONFIG: unknown = JSON.parse(readFileSync('config/shop.example.json', 'utf8'));
const CARDS: unknown = JSON.parse(readFileSync('config/cards.json', 'utf8'));
const [SCENARIO] = (
  JSON.parse(readFileSync('tests/fixtures/reference/cure-scenarios.json', 'utf8')) as { scenarios: unknown[] }
).scenarios;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'sandby-fuzz-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

type Parser = (text: string) => Promise<readonly Rejection[]> | readonly Rejection[];

/** What a parser says of a text; nothing where it takes it. */
const PARSERS: readonly (readonly [name: string, valid: unknown, parse: Parser])[] = [
  ['SenML', SENML_PACK, (text) => readings(text, 'senml')],
  ['plain readings', [{ sensorId: 'bay-1-air', airTemperatureC: 20 }], (text) => readings(text, 'plain')],
  ['readings of either kind', SENML_PACK, (text) => readings(text, 'any')],
  ['config', CONFIG, (text) => config({ 'shop.json': text })],
  ['cards', CARDS, (text) => config({ 'shop.json': JSON.stringify(CONFIG), 'cards.json': text })],
  ['scenario', SCENARIO, (text) => oneOf(parseScenarios(text))],
  ['scenarios', { scenarios: [SCENARIO] }, (text) => oneOf(parseScenarios(text))],
  ...DIARY_LINES.map(
    (line) => [`diary (${line.kind})`, line, (text: string) => oneOf(parseDiary(text))] as const,
  ),
];

function readings(text: string, format: 'plain' | 'senml' | 'any'): readonly Rejection[] {
  const parsed = parseReadings(valueOf(text), { format, topicSensorId: null, nowAt: NOW_AT });
  if (parsed.kind === 'rejected') return parsed.rejections;
  for (const { at } of parsed.value) expect(Number.isSafeInteger(at)).toBe(true);
  return [];
}

/** Doors hand on what JSON made of a text; a text that is none comes as itself. */
function valueOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}

function oneOf(
  parsed: { readonly kind: 'parsed' } | { readonly kind: 'rejected'; readonly rejection: Rejection },
): readonly Rejection[] {
  return parsed.kind === 'rejected' ? [parsed.rejection] : [];
}

/** A broken config is one line that names file, key and bounds. */
function config(files: Readonly<Record<string, string>>): readonly Rejection[] {
  copyFileSync('config/cards.json', join(folder, 'cards.json'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  try {
    readConfig(join(folder, 'shop.json'), {});
    return [];
  } catch (error) {
    expect(error).toBeInstanceOf(ConfigError);
    const { message } = error as ConfigError;
    // The file is the config, or the cards that it names: a name may hold anything.
    expect(message).toMatch(/^\/.*: ./s);
    return [{ path: '', reason: message.split('\n')[0] ?? '', allowed: message }];
  }
}

function expectNamed(rejections: readonly Rejection[]): void {
  for (const { path, reason, allowed } of rejections) {
    expect(typeof path).toBe('string');
    expect(reason).not.toBe('');
    expect(allowed).not.toBe('');
  }
}

describe.each(PARSERS)('the parser of %s', (_name, valid, parse) => {
  const corpus = JSON.parse(readFileSync('tests/fuzz/corpus/files.json', 'utf8')) as {
    why: string;
    text: string;
  }[];

  it('takes what is valid', async () => {
    expect(await parse(JSON.stringify(valid))).toEqual([]);
  });

  it.each(corpus)('rejects with a reason: $why', async ({ text }) => {
    const rejections = await parse(text);
    expect(rejections).not.toEqual([]);
    expectNamed(rejections);
  });

  it(
    'answers each malformed text with a value or a reason, and keeps none of them',
    { timeout: FUZZ_MS },
    async () => {
      let rejectedCount = 0;
      const round = (seed: number): Promise<void> =>
        fc.assert(
          fc.asyncProperty(
            fc.oneof(
              malformedText(valid),
              broken(valid).map((one) => JSON.stringify(one) ?? ''),
            ),
            async (text) => {
              const rejections = await parse(text);
              if (rejections.length > 0) rejectedCount += 1;
              expectNamed(rejections);
            },
          ),
          { seed, numRuns: RUNS_COUNT / 2, endOnFailure: true },
        );
      await round(SEED);
      const before = await heapBytes();
      await round(SEED + 1);
      expect((await heapBytes()) - before).toBeLessThan(GROWTH_MAX_BYTES);
      // A parser that takes everything would pass all else.
      expect(rejectedCount).toBeGreaterThan(RUNS_COUNT / 3);
    },
  );
});

describe('a diary as a file', () => {
  it('of any bytes ends with lines or with the first that is none', { timeout: FUZZ_MS }, async () => {
    const file = join(folder, 'diary.jsonl');
    await fc.assert(
      fc.asyncProperty(fc.array(malformedBytes(DIARY_LINES[0]), { maxLength: 5 }), async (parts) => {
        writeFileSync(file, Buffer.concat(parts.flatMap((part) => [part, Buffer.from('\n')])));
        const lines = [];
        for await (const line of (await openDiary(file)).readLines()) lines.push(line);
        expect(lines.slice(0, -1).every(({ kind }) => kind === 'text')).toBe(true);
      }),
      { seed: SEED, numRuns: Math.ceil(RUNS_COUNT / 5), endOnFailure: true },
    );
  });
});
