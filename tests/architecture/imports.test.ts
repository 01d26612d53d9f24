// Who may import whom: the rules of config/dependencyRules.mjs over the tree, and over made-up trees that break them.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { brokenImports, brokenTree } from './brokenImports.ts';
import { allFolders, expectNone, readText, rootFolder, typescriptPaths, type Violation } from './sources.ts';

interface CruiseResult {
  readonly modules: readonly { readonly source: string }[];
  readonly summary: {
    readonly ruleSetUsed: {
      readonly forbidden: readonly { readonly name: string; readonly comment: string }[];
    };
    readonly violations: readonly BrokenRule[];
  };
}

interface BrokenRule {
  readonly from: string;
  readonly to: string;
  readonly rule: { readonly name: string };
}

const rulesPath = join(rootFolder, 'config/dependencyRules.mjs');

describe('imports', () => {
  it('follow the table of who may import whom', { timeout: 60_000 }, () => {
    const { modules, summary } = cruise(rootFolder, allFolders);
    // A compiler that the tool does not know makes it see nothing and find nothing.
    const own = typescriptPaths(allFolders);
    const seen = new Set(modules.map(({ source }) => source));
    expect(own.filter((path) => !seen.has(path))).toEqual([]);
    expect(own.length).toBeGreaterThan(0);
    expectNone(summary.violations.map((violation) => tell(violation, summary)));
  });

  it('belong to a layer wherever a server file stands', () => {
    const isPlaced = /^server\/((engine|contract|domain|application)\/.+|adapters\/[^/]+\/.+|[^/]+)$/;
    const lost = typescriptPaths(['server']).filter((path) => !isPlaced.test(path));
    const says = 'put it into a layer, an adapter folder, or beside server/main.ts as a composition root';
    expectNone(lost.map((place) => ({ place, says })));
  });
});

describe('the import rules', () => {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-imports-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('see each what it forbids, and let the rest through', { timeout: 60_000 }, () => {
    for (const [path, text] of Object.entries(brokenTree)) write(join(folder, path), text);
    const { summary } = cruise(folder, ['server', 'dashboard', 'sensors-sim', 'tests', 'config']);
    const found = summary.violations.map(({ from, rule }) => `${rule.name} in ${from}`);
    expect([...new Set(found)].sort()).toEqual(
      brokenImports.map(({ rule, path }) => `${rule} in ${path}`).sort(),
    );
    const { forbidden } = summary.ruleSetUsed;
    expect(brokenImports.map(({ rule }) => rule).sort()).toEqual(forbidden.map(({ name }) => name).sort());
    expect(forbidden.filter(({ comment }) => !/^[A-Z].*\.$/.test(comment))).toEqual([]);
  });
});

function cruise(folder: string, parts: readonly string[]): CruiseResult {
  const program = join(rootFolder, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const options = ['--config', rulesPath, '--output-type', 'json', ...parts];
  const printed = execFileSync(process.execPath, [program, ...options], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
  });
  return JSON.parse(printed) as CruiseResult;
}

function tell({ from, to, rule }: BrokenRule, { ruleSetUsed }: CruiseResult['summary']): Violation {
  const reason = ruleSetUsed.forbidden.find(({ name }) => name === rule.name)?.comment ?? '';
  return { place: `${from}:${lineOf(from, to)}`, says: `imports ${to} (${rule.name}): ${reason}` };
}

/** The line that names the imported file; 1 when it is named in another way. */
function lineOf(from: string, to: string): number {
  const name = to.split('/node_modules/').at(-1)?.split('/') ?? [];
  const isPackage = to.includes('node_modules/');
  const wanted = isPackage ? name.slice(0, name[0]?.startsWith('@') === true ? 2 : 1).join('/') : name.at(-1);
  const isImport = /\bfrom\b|\bimport\b|\brequire\b/;
  const lines = readText(from).split('\n');
  return Math.max(1, lines.findIndex((line) => isImport.test(line) && line.includes(wanted ?? to)) + 1);
}

function write(path: string, text: string): void {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}
