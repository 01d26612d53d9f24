// A made-up tree in which each import rule is broken once, beside imports that are allowed.

interface BrokenImport {
  readonly rule: string;
  readonly path: string;
  readonly text: string;
}

const packages = ['zod', 'express', 'mqtt', 'preact', 'fast-check'];

/** One file a rule that breaks it, and it alone. */
export const brokenImports: readonly BrokenImport[] = [
  broken('engine-imports-no-other-layer', 'server/engine/layer.ts', '../contract/limits.ts'),
  broken('engine-imports-no-package', 'server/engine/package.ts', 'zod'),
  broken('engine-imports-no-node', 'server/engine/node.ts', 'node:fs'),
  broken('contract-imports-no-other-layer', 'server/contract/layer.ts', '../engine/solve.ts'),
  broken('contract-imports-only-zod', 'server/contract/package.ts', 'express'),
  broken('contract-imports-no-node', 'server/contract/node.ts', 'node:fs'),
  broken('domain-imports-no-outer-layer', 'server/domain/layer.ts', '../application/ports/ledger.ts'),
  broken('domain-takes-only-types-from-contract', 'server/domain/value.ts', '../contract/limits.ts'),
  broken('domain-imports-no-package', 'server/domain/package.ts', 'zod'),
  broken('domain-imports-no-node', 'server/domain/node.ts', 'node:fs'),
  broken(
    'application-imports-no-adapter',
    'server/application/adapter.ts',
    '../adapters/ledger/openLedger.ts',
  ),
  broken('application-enters-engine-by-its-index', 'server/application/engine.ts', '../engine/solve.ts'),
  broken('application-imports-no-package', 'server/application/package.ts', 'zod'),
  broken('application-imports-no-node', 'server/application/node.ts', 'node:fs'),
  broken('adapter-keeps-to-its-folder', 'server/adapters/http/other.ts', '../ledger/openLedger.ts'),
  broken('adapter-imports-no-engine', 'server/adapters/http/engine.ts', '../../engine/index.ts'),
  broken('adapter-takes-only-types-from-domain', 'server/adapters/http/value.ts', '../../domain/decide.ts'),
  broken('adapter-sees-only-ports', 'server/adapters/http/useCase.ts', '../../application/recordReading.ts'),
  broken(
    'adapter-imports-no-outer-part',
    'server/adapters/http/page.ts',
    '../../../dashboard/format/time.ts',
  ),
  broken('root-imports-no-package', 'server/serve.ts', 'express'),
  broken('root-imports-no-page-or-simulator', 'server/demo.ts', '../sensors-sim/plant.ts'),
  broken('dashboard-imports-only-contract', 'dashboard/actions/decide.ts', '../../server/domain/decide.ts'),
  broken('dashboard-imports-only-page-packages', 'dashboard/actions/package.ts', 'express'),
  broken('dashboard-imports-no-node', 'dashboard/actions/node.ts', 'node:fs'),
  broken('views-and-charts-never-import-the-feed', 'dashboard/views/Bench.ts', '../feed/connect.ts'),
  broken('state-imports-no-view-or-chart', 'dashboard/state/shop.ts', '../views/Slip.ts'),
  broken('format-is-a-leaf', 'dashboard/format/state.ts', '../state/now.ts'),
  broken(
    'format-takes-only-types-from-contract',
    'dashboard/format/value.ts',
    '../../server/contract/limits.ts',
  ),
  broken('sensors-sim-imports-only-contract', 'sensors-sim/engine.ts', '../server/engine/index.ts'),
  broken('sensors-sim-imports-only-mqtt', 'sensors-sim/package.ts', 'express'),
  broken('no-cycles', 'server/domain/egg.ts', './hen.ts'),
  { rule: 'no-barrels', path: 'server/domain/index.ts', text: "export * from './decide.ts';\n" },
  broken('nothing-imports-a-root', 'sensors-sim/again.ts', './main.ts'),
  broken('nothing-shipped-imports-tests', 'sensors-sim/tested.ts', '../tests/support/help.ts'),
  broken('no-development-packages', 'server/adapters/http/check.ts', 'fast-check'),
  broken('no-unresolved-imports', 'server/domain/lost.ts', './nowhere.ts'),
];

const allowed: Readonly<Record<string, string>> = {
  'server/engine/solve.ts': value(),
  'server/engine/index.ts': "export * from './solve.ts';\n",
  'server/contract/limits.ts': imports('zod') + value(),
  'server/contract/index.ts': "export * from './limits.ts';\n",
  'server/domain/decide.ts': imports('../engine/solve.ts') + importsType('../contract/limits.ts') + value(),
  'server/domain/hen.ts': imports('./egg.ts') + value(),
  'server/application/ports/ledger.ts': importsType('../../domain/decide.ts') + value(),
  'server/application/recordReading.ts':
    ['./ports/ledger.ts', '../engine/index.ts', '../contract/index.ts', '../domain/decide.ts']
      .map((path) => imports(path))
      .join('') + value(),
  'server/adapters/ledger/openLedger.ts':
    ['../../application/ports/ledger.ts', '../../contract/index.ts', 'express', 'node:fs']
      .map((path) => imports(path))
      .join('') +
    importsType('../../domain/decide.ts') +
    value(),
  'server/main.ts':
    ['./adapters/ledger/openLedger.ts', './application/recordReading.ts', './serve.ts', 'node:fs']
      .map((path) => imports(path))
      .join('') + value(),
  'dashboard/format/time.ts': importsType('../../server/contract/limits.ts') + value(),
  'dashboard/state/now.ts': imports('../format/time.ts') + value(),
  'dashboard/views/Slip.ts':
    imports('preact') + imports('../state/now.ts') + imports('../format/time.ts') + value(),
  'dashboard/feed/connect.ts':
    imports('../state/now.ts') + imports('../../server/contract/index.ts') + value(),
  'sensors-sim/plant.ts':
    imports('../server/contract/index.ts') + imports('mqtt') + imports('node:fs') + value(),
  'sensors-sim/main.ts': imports('./plant.ts') + value(),
  'tests/support/help.ts':
    imports('../../server/adapters/ledger/openLedger.ts') + imports('fast-check') + value(),
};

/** The whole tree by path: what is broken, what is allowed, and packages to import. */
export const brokenTree: Readonly<Record<string, string>> = {
  ...allowed,
  ...Object.fromEntries(brokenImports.map(({ path, text }) => [path, text])),
  ...Object.fromEntries(
    packages.flatMap((name) => [
      [`node_modules/${name}/package.json`, JSON.stringify({ name, version: '1.0.0', main: 'index.js' })],
      [`node_modules/${name}/index.js`, 'module.exports = { value: 1 };\n'],
    ]),
  ),
  'package.json': JSON.stringify({
    name: 'sample',
    dependencies: { zod: '1', express: '1', mqtt: '1', preact: '1' },
    devDependencies: { 'fast-check': '1' },
  }),
  'tsconfig.json': JSON.stringify({ compilerOptions: { allowImportingTsExtensions: true, noEmit: true } }),
  'config/vitest.ts': value(),
};

function broken(rule: string, path: string, target: string): BrokenImport {
  return { rule, path, text: imports(target) + value() };
}

function imports(target: string): string {
  return `import * as m${target.replaceAll(/\W/g, '_')} from '${target}';\n`;
}

function importsType(target: string): string {
  return `import type * as t${target.replaceAll(/\W/g, '_')} from '${target}';\n`;
}

function value(): string {
  return 'export const value = 1;\n';
}
