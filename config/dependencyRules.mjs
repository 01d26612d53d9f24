// Who may import whom: one rule an arrow of the import table, each with its reason.
// tests/architecture/imports.test.ts runs them over the tree and shows that each of them bites.

const packages = '(^|/)node_modules/';
const packagesBut = (...names) => `${packages}(?!(${names.join('|')})/)`;
const outsideServerLayers = '^(server/[^/]+$|dashboard/|sensors-sim/)';
const typesOnly = { dependencyTypesNot: ['type-only'] };

const rule = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to });

const engine = [
  rule(
    'engine-imports-no-other-layer',
    'The engine is pure numerics: pass the value in as a parameter.',
    { path: '^server/engine/' },
    { path: '^(server|dashboard|sensors-sim)/', pathNot: '^server/engine/' },
  ),
  rule(
    'engine-imports-no-package',
    'The engine carries its own mathematics: write the method out and cite its source.',
    { path: '^server/engine/' },
    { path: packages },
  ),
  rule(
    'engine-imports-no-node',
    'The engine does no I/O: let an adapter read, and pass the value in.',
    { path: '^server/engine/' },
    { dependencyTypes: ['core'] },
  ),
];

const contract = [
  rule(
    'contract-imports-no-other-layer',
    'The wire schemas are shared with browser and simulator: keep what they need inside the contract.',
    { path: '^server/contract/' },
    { path: '^(server|dashboard|sensors-sim)/', pathNot: '^server/contract/' },
  ),
  rule(
    'contract-imports-only-zod',
    'The contract is bundled into every page: zod and zod-openapi are all it may bring.',
    { path: '^server/contract/' },
    { path: packagesBut('zod', 'zod-openapi') },
  ),
  rule(
    'contract-imports-no-node',
    'The contract runs in browsers: use what the language itself has.',
    { path: '^server/contract/' },
    { dependencyTypes: ['core'] },
  ),
];

const domain = [
  rule(
    'domain-imports-no-outer-layer',
    'The domain decides from values alone: return a fact and let the application act on it.',
    { path: '^server/domain/' },
    { path: ['^server/(application|adapters)/', outsideServerLayers] },
  ),
  rule(
    'domain-takes-only-types-from-contract',
    'Parsing is done before the domain is asked: use `import type`.',
    { path: '^server/domain/' },
    { path: '^server/contract/', ...typesOnly },
  ),
  rule(
    'domain-imports-no-package',
    'The domain is plain functions over plain values: wrap the package in an adapter behind a port.',
    { path: '^server/domain/' },
    { path: packages },
  ),
  rule(
    'domain-imports-no-node',
    'The domain does no I/O: take what it needs as a parameter.',
    { path: '^server/domain/' },
    { dependencyTypes: ['core'] },
  ),
];

const application = [
  rule(
    'application-imports-no-adapter',
    'Use cases know ports, not what is behind them: add to the port and let the composition root join them.',
    { path: '^server/application/' },
    { path: ['^server/adapters/', outsideServerLayers] },
  ),
  rule(
    'application-enters-engine-by-its-index',
    'The engine stays free to move its insides: export from server/engine/index.ts.',
    { path: '^server/application/' },
    { path: '^server/engine/', pathNot: '^server/engine/index\\.ts$' },
  ),
  rule(
    'application-imports-no-package',
    'Use cases stay swappable: put the package behind a port, in an adapter.',
    { path: '^server/application/' },
    { path: packages },
  ),
  rule(
    'application-imports-no-node',
    'Use cases reach the machine through ports only: add to a port.',
    { path: '^server/application/' },
    { dependencyTypes: ['core'] },
  ),
];

const adapters = [
  rule(
    'adapter-keeps-to-its-folder',
    'Each port kind has one folder and can be swapped alone: share by a port or join in the composition root.',
    { path: '^server/adapters/([^/]+)/' },
    { path: '^server/adapters/', pathNot: '^server/adapters/$1/' },
  ),
  rule(
    'adapter-imports-no-engine',
    'Adapters carry values, they compute no physics: ask a use case.',
    { path: '^server/adapters/' },
    { path: '^server/engine/' },
  ),
  rule(
    'adapter-takes-only-types-from-domain',
    'Rules are applied by use cases, not at the door: use `import type`, or ask a use case.',
    { path: '^server/adapters/' },
    { path: '^server/domain/', ...typesOnly },
  ),
  rule(
    'adapter-sees-only-ports',
    'Adapters are handed their use cases by the composition root: describe what is called as a port.',
    { path: '^server/adapters/' },
    { path: '^server/application/', pathNot: '^server/application/ports(/|\\.ts$)' },
  ),
  rule(
    'adapter-imports-no-outer-part',
    'Adapters are joined by the composition root and never the other way round.',
    { path: '^server/adapters/' },
    { path: outsideServerLayers },
  ),
];

const roots = [
  rule(
    'root-imports-no-package',
    'A composition root only joins our own parts: put the package into an adapter.',
    { path: '^server/[^/]+$' },
    { path: packages },
  ),
  rule(
    'root-imports-no-page-or-simulator',
    'Pages and simulator are programs of their own: serve the one, start the other as a process.',
    { path: '^server/[^/]+$' },
    { path: '^(dashboard|sensors-sim)/' },
  ),
];

const dashboard = [
  rule(
    'dashboard-imports-only-contract',
    'Pages know the server by its wire schemas alone: export from server/contract.',
    { path: '^dashboard/' },
    { path: '^(server|sensors-sim)/', pathNot: '^server/contract/' },
  ),
  rule(
    'dashboard-imports-only-page-packages',
    'Everything here is sent to a phone: only preact, its signals, chart.js with plugins and the socket client.',
    { path: '^dashboard/' },
    {
      path: packagesBut(
        'preact',
        '@preact/signals(-core)?',
        'chart\\.js',
        'chartjs-[^/]+',
        'socket\\.io-client',
      ),
    },
  ),
  rule(
    'dashboard-imports-no-node',
    'Pages run in browsers: use what the browser has.',
    { path: '^dashboard/' },
    { dependencyTypes: ['core'] },
  ),
  rule(
    'views-and-charts-never-import-the-feed',
    'Views read state and call actions, charts draw what they are handed: change the state in the feed.',
    { path: '^dashboard/(views|charts)/' },
    { path: '^dashboard/feed(/|\\.tsx?$)' },
  ),
  rule(
    'state-imports-no-view-or-chart',
    'State is read by views, not the other way round: move what is shared into state or format.',
    { path: '^dashboard/state(/|\\.tsx?$)' },
    { path: '^dashboard/(views|charts)/' },
  ),
  rule(
    'format-is-a-leaf',
    'Formatters are pure functions of their arguments: hand the value over as an argument.',
    { path: '^dashboard/format(/|\\.tsx?$)' },
    { path: '^dashboard/', pathNot: '^dashboard/format(/|\\.tsx?$)' },
  ),
  rule(
    'format-takes-only-types-from-contract',
    'Formatters never parse: use `import type`.',
    { path: '^dashboard/format(/|\\.tsx?$)' },
    { path: '^server/contract/', ...typesOnly },
  ),
];

const sensorsSim = [
  rule(
    'sensors-sim-imports-only-contract',
    "A plant built from the estimator's own equations would hide its mistakes: use the wire schemas only.",
    { path: '^sensors-sim/' },
    { path: '^(server|dashboard)/', pathNot: '^server/contract/' },
  ),
  rule(
    'sensors-sim-imports-only-mqtt',
    'The simulator is a device: it needs the mqtt client and nothing else.',
    { path: '^sensors-sim/' },
    { path: packagesBut('mqtt') },
  ),
];

const everywhere = [
  rule(
    'no-cycles',
    'Files that need each other are one file: move what both need into a third.',
    {},
    { circular: true },
  ),
  rule(
    'no-barrels',
    'Only server/engine/index.ts and server/contract/index.ts gather exports: import from the file itself.',
    { pathNot: '^server/(engine|contract)/index\\.ts$' },
    { dependencyTypes: ['export'] },
  ),
  rule(
    'nothing-imports-a-root',
    'A composition root is run, not imported: move the shared part into its layer.',
    { path: '^(server/[^/]+/|dashboard/|sensors-sim/)' },
    { path: '^(server/[^/]+\\.ts|sensors-sim/main\\.ts|dashboard/main\\.tsx)$' },
  ),
  rule(
    'nothing-shipped-imports-tests',
    'What a shop runs does not contain tests: move the shared part into its layer.',
    { path: '^(server|dashboard|sensors-sim|config)/' },
    { path: '^tests/' },
  ),
  rule(
    'no-development-packages',
    'A shop installs without development packages: make it a dependency, with a decision, or use `import type`.',
    { path: '^(server|dashboard|sensors-sim)/' },
    { dependencyTypes: ['npm-dev', 'npm-no-pkg', 'npm-unknown'], ...typesOnly },
  ),
  rule(
    'no-unresolved-imports',
    'An import that leads nowhere escapes every other rule: mend the path or add the package.',
    {},
    { couldNotResolve: true },
  ),
];

export default {
  forbidden: [
    ...engine,
    ...contract,
    ...domain,
    ...application,
    ...adapters,
    ...roots,
    ...dashboard,
    ...sensorsSim,
    ...everywhere,
  ],
  options: {
    doNotFollow: { path: packages },
    exclude: { path: '^(dist|coverage)/' },
    // Type-only imports are arrows too; the rules that let them through say so.
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
