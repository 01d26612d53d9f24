// The tools that read the whole tree run as tests, so that one command is the whole gate.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { allFolders, rootFolder } from './sources.ts';

interface Tool {
  readonly name: string;
  readonly program: string;
  readonly options: readonly string[];
  readonly instead: string;
}

const tools: readonly Tool[] = [
  {
    name: 'tsc finds no type error',
    program: 'typescript/bin/tsc',
    options: ['--noEmit', '--pretty', 'false'],
    instead: 'mend the types',
  },
  {
    name: 'oxlint finds nothing',
    program: 'oxlint/bin/oxlint',
    options: ['--type-aware', '--deny-warnings', '--format=unix', ...allFolders],
    instead:
      'mend the code; a rule that is only noise goes to .oxlintrc.json, with the agreement of its owner',
  },
  {
    name: 'prettier would change nothing',
    program: 'prettier/bin/prettier.cjs',
    options: ['--check', ...allFolders],
    instead: 'run `npm run format`',
  },
  {
    name: 'knip finds no dead code and no package that is missing or unused',
    program: 'knip/bin/knip.js',
    options: ['--config', 'config/knip.json', '--no-progress'],
    instead: 'delete it, stop exporting it, or list it',
  },
];

it.each(tools.map((tool) => [tool.name, tool] as const))('%s', { timeout: 180_000 }, (_, tool) => {
  const { program, options, instead } = tool;
  const run = spawnSync(process.execPath, [join(rootFolder, 'node_modules', program), ...options], {
    cwd: rootFolder,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
    env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: undefined },
  });
  if (run.status !== 0) expect.fail(`${instead}\n${run.stdout}${run.stderr}${run.error?.message ?? ''}`);
});
