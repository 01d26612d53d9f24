// One run holds every check there is: units, properties, architecture, real broker, database and browser.
import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

const root = resolve(import.meta.dirname, '..');
const core = ['tests/{engine,domain}/**/!(bruteForce).test.ts'];
/** Functions of what they are given: their files may share a process, which spares half of the time for loading modules. */
const units = [
  // Ten thousand random members for each of many batches: a check of windows, not of lines, so not among those counted.
  'tests/engine/bruteForce.test.ts',
  'tests/*.test.ts',
  'tests/{contract,reference,sensors-sim,adapters,application}/**/!(heldEstimates).test.ts',
  'tests/dashboard/format/**/*.test.{ts,tsx}',
];

export default defineConfig({
  root,
  test: {
    globalSetup: ['tests/support/buildOnce.ts'],
    // The database driver must not run in threads: a process that ends while one is inside it aborts.
    pool: 'forks',
    // One more than the usual two cores: half the time of a browser test is waiting for what the shop's own clock does.
    maxWorkers: 3,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // What is asked again until it is so may take its time on a busy machine; one second would be a verdict on the machine.
    expect: { poll: { timeout: 10_000 } },
    projects: [
      // Whole programs, browsers, the signals of the pages, a module replaced: each file has a process of its own.
      {
        extends: true,
        test: {
          name: 'programs',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [...core, ...units],
        },
      },
      { extends: true, test: { name: 'units', include: units, isolate: false } },
      // Apart from the others, since only these are counted: see tests/support/coreCoverage.ts.
      { extends: true, test: { name: 'core', include: core, isolate: false } },
    ],
    coverage: {
      // The tests of engine and domain alone are counted.
      provider: 'custom',
      customProviderModule: 'tests/support/coreCoverage.ts',
      include: ['server/engine/**', 'server/domain/**'],
      reporter: ['text-summary', 'json-summary'],
      reportsDirectory: 'coverage',
      thresholds: { statements: 100, branches: 100, functions: 100, lines: 100 },
    },
  },
});
