// Builds pages and server once before any test, so that browser and process tests run what a shop runs.
import { execFileSync } from 'node:child_process';
import { resolve } from 'node:path';

export default function buildOnce(): void {
  execFileSync('npm', ['run', '--silent', 'build'], {
    cwd: resolve(import.meta.dirname, '../..'),
    stdio: ['ignore', 'inherit', 'inherit'],
  });
}
