// Coverage where it is asked for: the tests of engine and domain. All others run the engine as fast as it is (counting costs it half as
// much again), and what they cover by the way must not stand in for a test.
import v8 from '@vitest/coverage-v8';
import type { CoverageProviderModule } from 'vitest/node';

const COUNTED = /[/\\]tests[/\\](engine|domain)[/\\]/;

interface WorkerState {
  readonly ctx: { readonly files: readonly { readonly filepath: string }[] };
}

let isCounting = false;

const module: CoverageProviderModule = {
  ...v8,
  async startCoverage(options) {
    const { __vitest_worker__: worker } = globalThis as unknown as { __vitest_worker__: WorkerState };
    isCounting = worker.ctx.files.every(({ filepath }) => COUNTED.test(filepath));
    if (isCounting) await v8.startCoverage?.(options);
  },
  takeCoverage: (options) => (isCounting ? v8.takeCoverage?.(options) : { result: [] }),
  async stopCoverage(options) {
    if (isCounting) await v8.stopCoverage?.(options);
  },
};

export default module;
