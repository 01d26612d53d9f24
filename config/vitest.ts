// One run holds every check there is: units, properties, architecture, real broker, database and browser.
import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

const root = resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    globalSetup: ['tests/support/buildOnce.ts'],
    // The database driver must not run in threads: a process that ends while one is inside it aborts.
    pool: 'forks',
    // One more than the usual two cores: half the time of a browser test is waiting for what the shop's own clock does.
    maxWorkers: 3,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // What is asked again until it is so may take its time on a busy machine; one second would be a verdict on the machine.
    expect: { poll: { timeout: 10_000 } },
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
