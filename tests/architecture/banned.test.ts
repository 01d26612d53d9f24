// Clocks, chance, timers, environment, output and network stay at the edges; nothing is left switched off.
import { beforeAll, describe, expect, it } from 'vitest';
import { findBannedUses, findLeftovers, findPoorTestNames, findSwitchedOff, findWaiting } from './bans.ts';
import {
  allFolders,
  expectNone,
  parseFiles,
  parseText,
  readText,
  sampleProject,
  shippedProject,
  trackedFiles,
  typescriptPaths,
} from './sources.ts';

beforeAll(() => void shippedProject());

describe('shipped code', () => {
  it('reaches clocks, chance, timers, environment, output and network at its edges only', () => {
    expectNone(findBannedUses(shippedProject()));
  });

  it('never waits in engine and domain', () => {
    expectNone(findWaiting(shippedProject().files));
  });
});

describe('the whole tree', () => {
  it('switches off neither types nor tests', () => {
    expectNone(findSwitchedOff(parseFiles(typescriptPaths(allFolders))));
  });

  it('names each test by what holds', () => {
    expectNone(findPoorTestNames(parseFiles(typescriptPaths(['tests']))));
  });

  it('leaves no unfinished work behind', () => {
    const paths = trackedFiles({ withUntracked: true }).filter((path) =>
      /\.([cm]?[jt]sx?|css|html|md)$/.test(path),
    );
    expectNone(paths.flatMap((path) => findLeftovers(path, readText(path))));
  });
});

describe('the ban on edges', () => {
  const found = (path: string, text: string): string[] =>
    findBannedUses(sampleProject({ [path]: text })).map(({ says }) => says.split(' outside')[0] ?? '');

  it.each([
    ['Date.now', 'export const a = Date.now();'],
    ['Date.now', "export const a = Date['now']();"],
    ['Date.now', 'export const { now } = Date;'],
    ['Date.now', 'export const a = [1].map(Date.now);'],
    ['new Date() without an argument', 'export const a = new Date();'],
    ['new Date() without an argument', 'export const a = Date();'],
    ['performance', 'export const a = performance.now();'],
    ['Math.random', 'export const a = Math.random();'],
    ['crypto.randomUUID', 'export const a = crypto.randomUUID();'],
    ['crypto.getRandomValues', 'export const a = globalThis.crypto.getRandomValues(new Uint8Array(1));'],
    ['node:crypto', "import { randomUUID } from 'node:crypto';\nexport const a = randomUUID();"],
    ['setTimeout', 'setTimeout(() => {}, 1);'],
    ['setInterval', 'window.setInterval(() => {}, 1);'],
    ['setImmediate', 'export const a = { setImmediate };'],
    ['requestAnimationFrame', 'requestAnimationFrame(() => {});'],
    ['node:timers/promises', "import { setTimeout as wait } from 'node:timers/promises';\nvoid wait(1);"],
    ['process.env', 'export const a = process.env.HOME;'],
    ['process.env', "import process from 'node:process';\nexport const a = process.env.HOME;"],
    ['console', "console.log('a');"],
    ['fetch', "void fetch('/');"],
  ])('sees %s in: %s', (use, text) => {
    expect(found('server/application/a.ts', text)).toEqual([use]);
  });

  it.each([
    ['a date of an instant', 'export const a = new Date(0).toISOString();'],
    ['an own function of that name', 'export const a = (fetch: () => void): void => fetch();'],
    ['a member of that name', 'export const a = (port: { fetch(): void }): void => port.fetch();'],
    ['a type', 'export type A = typeof fetch; export type B = Date;'],
    ['other mathematics', 'export const a = Math.max(1, 2);'],
    ['other cryptography', "import { createHash } from 'node:crypto';\nexport const a = createHash;"],
  ])('lets %s through', (_, text) => {
    expect(found('server/application/a.ts', text)).toEqual([]);
  });

  it.each([
    'server/adapters/clock/makeWallClock.ts',
    'server/main.ts',
    'dashboard/feed/connect.ts',
    'sensors-sim/transport/publish.ts',
  ])('lets %s use the machine', (path) => {
    expect(found(path, 'export const a = [Date.now(), process.env, console, fetch];')).toEqual([]);
  });

  it.each(['dashboard/main.tsx', 'sensors-sim/main.ts'])('lets %s read its environment once', (path) => {
    expect(found(path, 'export const a = process.env;')).toEqual([]);
    expect(found(path, 'export const a = [process.env, process.env];')).toEqual(['process.env']);
    expect(found(path, 'export const a = Date.now();')).toEqual(['Date.now']);
  });
});

describe('the other bans', () => {
  it.each([
    'export async function a(): Promise<void> {}',
    'export const a = async () => {};',
    'export type A = Promise<number>;',
    'export const a = Promise.resolve(1);',
  ])('see waiting in: %s', (text) => {
    expect(findWaiting([parseText('server/domain/a.ts', text)])).not.toEqual([]);
    expect(findWaiting([parseText('server/application/a.ts', text)])).toEqual([]);
  });

  it.each([
    'const a = b as any;',
    'const a: any[] = [];',
    "it.skip('a', () => {});",
    "describe.only('a', () => {});",
    "it.concurrent.skip('a', () => {});",
    "test.each([1]).skip('a', () => {});",
  ])('see what is switched off in: %s', (text) => {
    expect(findSwitchedOff([parseText('tests/a.test.ts', text)])).toHaveLength(1);
  });

  it('let a test depend on what the machine has', () => {
    const text = "describe.skipIf(isMissing)('a', () => {}); iterator.skip(1);";
    expect(findSwitchedOff([parseText('tests/a.test.ts', text)])).toEqual([]);
  });

  it('see names that say a number or a wish', () => {
    const text = "it('should work', f); it('case 7', f); it('keeps the estimate', f);";
    expect(findPoorTestNames([parseText('tests/a.test.ts', text)])).toHaveLength(2);
  });

  it('see unfinished work and unchecked types, line by line', () => {
    const split = (...parts: string[]): string => parts.join('');
    const marks = [split('TO', 'DO later'), split('@ts-', 'ignore'), split('FIX', 'ME')];
    const text = ['a();', ...marks.map((mark) => `// ${mark}`)].join('\n');
    expect(findLeftovers('server/a.ts', text).map(({ place }) => place)).toEqual([
      'server/a.ts:2',
      'server/a.ts:3',
      'server/a.ts:4',
    ]);
  });
});
