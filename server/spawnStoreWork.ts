// Has long work on whole files done by a process of its own, behind everything else on the machine.
import { type ChildProcess, spawn } from 'node:child_process';
import { setPriority } from 'node:os';
import { join } from 'node:path';
import type { StoreWork, WorkVerdict } from './adapters/ledger/sqlite/storeWork.ts';
import { findProgramFolder } from './programFiles.ts';

/** As low as a machine shared by people's own work asks for. */
const LOW_PRIORITY_VALUE = 10;
/** A verdict is one line; more than this is none [bytes]. */
const OUTPUT_BYTES_MAX = 65_536;

/** Makes the work that other processes do. */
export function spawnStoreWork(): StoreWork {
  const running = new Set<ChildProcess>();
  const run = (flags: readonly string[]): Promise<WorkVerdict> => runOne(running, flags);
  return {
    copy: ({ file, target }) => run(['copy', file, target]),
    check: (file) => run(['check', file]),
    stop() {
      for (const child of running) child.kill('SIGKILL');
    },
  };
}

function runOne(running: Set<ChildProcess>, flags: readonly string[]): Promise<WorkVerdict> {
  const program = join(findProgramFolder(), 'dist', 'server', 'storeWork.js');
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [program, ...flags], { stdio: ['ignore', 'pipe', 'inherit'] });
    running.add(child);
    let output = '';
    child.stdout.on('data', (chunk: Buffer) => {
      if (output.length < OUTPUT_BYTES_MAX) output += chunk.toString();
    });
    const end = (): void => {
      running.delete(child);
      resolve(verdictFrom(output));
    };
    child.once('error', end);
    child.once('close', end);
    lower(child);
  });
}

function lower({ pid }: ChildProcess): void {
  try {
    if (pid !== undefined) setPriority(pid, LOW_PRIORITY_VALUE);
  } catch {
    // It may have ended already, or the system does not let us; the work is the same.
  }
}

function verdictFrom(output: string): WorkVerdict {
  try {
    return JSON.parse(output) as WorkVerdict;
  } catch {
    return { kind: 'failed', code: 'unfinished', sentence: 'it was ended before it was done' };
  }
}
