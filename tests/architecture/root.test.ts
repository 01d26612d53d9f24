// What stands at the root, what the two documents promise, and that nothing names the machine it was written on.
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expectNone, readText, rootFolder, trackedFiles, type Violation } from './sources.ts';

const files = ['README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json', 'tsconfig.json'];
const folders = ['server', 'dashboard', 'sensors-sim', 'tests', 'config'];
const dotEntries = ['.ci', '.gitignore', '.npmrc', '.oxlintrc.json', '.prettierignore'];

const developersLinesMax = 400;
const runtimePackagesMax = 22;

describe('the root', () => {
  it('holds the allowed entries and no others', () => {
    const entries = new Set(trackedFiles({ withUntracked: false }).map((path) => path.split('/')[0] ?? ''));
    const extra = [...entries].filter((name) => ![...files, ...folders, ...dotEntries].includes(name));
    const missing = [...files, ...folders].filter((name) => !entries.has(name));
    expect({ extra, missing }).toEqual({ extra: [], missing: [] });
  });

  it('locks packages without the address of a registry', () => {
    expectNone(
      linesWith('package-lock.json', /"resolved"/, 'keep omit-lockfile-registry-resolved in .npmrc'),
    );
  });

  it('names no machine in any file', () => {
    const places = machinePlaces();
    const says = 'names a place of one machine: use a path below the root, or a neutral host';
    expectNone(
      trackedFiles({ withUntracked: false })
        .filter((path) => !isBinary(path))
        .flatMap((path) => linesWith(path, places, says)),
    );
  });
});

describe('README.md', () => {
  it.each(['npm ci && npm start', 'npm ci && npm test'])('holds the command `%s`', (command) => {
    expect(readText('README.md')).toContain(command);
  });
});

describe('DEVELOPERS.md', () => {
  it(`keeps to ${developersLinesMax} lines`, () => {
    expect(readText('DEVELOPERS.md').trimEnd().split('\n').length).toBeLessThanOrEqual(developersLinesMax);
  });

  it('names only tests that exist', () => {
    const named = [...readText('DEVELOPERS.md').matchAll(/`(tests\/[^`\s]+)`/g)].map(([, path = '']) => path);
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((path) => !existsSync(join(rootFolder, path.replace(/\/\*+$/, ''))))).toEqual([]);
  });

  it('names a test for each invariant', () => {
    const items = itemsBelow('Invariants');
    expect(items.length).toBeGreaterThan(0);
    expect(items.filter((item) => !/`tests\/[^`]+`/.test(item))).toEqual([]);
  });

  it(`has a table row for each runtime package, at most ${runtimePackagesMax}`, () => {
    const { dependencies } = JSON.parse(readText('package.json')) as { dependencies: Record<string, string> };
    const names = Object.keys(dependencies);
    const rows = readText('DEVELOPERS.md')
      .split('\n')
      .filter((line) => line.startsWith('|'));
    expect(names.filter((name) => !rows.some((row) => row.includes(`\`${name}\``)))).toEqual([]);
    expect(names.length).toBeLessThanOrEqual(runtimePackagesMax);
  });
});

describe('the search for machines', () => {
  const hidden = (...parts: string[]): string => parts.join('');

  it.each([
    hidden('/wo', 'rk/main/server'),
    hidden('"/ro', 'ot/.npmrc"'),
    hidden('see /ho', 'me/someone'),
    hidden('https://regi', 'stry.npmjs.org/zod'),
  ])('sees %s', (text) => {
    expect(machinePlaces().test(text)).toBe(true);
  });

  it.each([
    '../work/a.ts',
    'dashboard/home/a.ts',
    './root/a',
    'https://example.org/work',
    'the registry. It',
  ])('lets %s through', (text) => {
    expect(machinePlaces().test(text)).toBe(false);
  });
});

/** Absolute folders of a developer's machine, hosts that serve packages, and this machine's own name and registry. */
function machinePlaces(): RegExp {
  const homes = ['work', 'root', 'home'].join('|');
  const ownNames = [hostname(), ownRegistryHost()].filter((name) => name.length > 3 && name !== 'localhost');
  const alternatives = [
    `(?<![\\w.~-])/(${homes})/`,
    `\\bregistry\\.[a-z0-9-]+\\.[a-z]{2,}`,
    ...ownNames.map((name) => `(?<![\\w-])${name.replaceAll('.', '\\.')}(?![\\w-])`),
  ];
  return new RegExp(alternatives.join('|'));
}

function ownRegistryHost(): string {
  const printed = execFileSync('npm', ['config', 'get', 'registry'], { cwd: rootFolder, encoding: 'utf8' });
  return URL.canParse(printed.trim()) ? new URL(printed.trim()).hostname : '';
}

function linesWith(path: string, pattern: RegExp, says: string): Violation[] {
  return readText(path)
    .split('\n')
    .flatMap((line, index) => (pattern.test(line) ? [{ place: `${path}:${index + 1}`, says }] : []));
}

function isBinary(path: string): boolean {
  return /\.(png|ico|jpe?g|webp|woff2?|ttf|gz|br|sqlite|db|pdf)$/.test(path);
}

/** The list items of a section, each with its continuation lines. */
function itemsBelow(heading: string): string[] {
  const text = readText('DEVELOPERS.md');
  const section = text.split(/^#+ /m).find((part) => part.replace(/^[\d. ]+/, '').startsWith(heading)) ?? '';
  return section
    .split(/^(?:[-*]|\d+\.) /m)
    .slice(1)
    .map((item) => item.split('\n\n')[0] ?? '');
}
