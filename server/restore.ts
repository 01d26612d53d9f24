// `npm run restore -- FILE [--config FILE]`: puts a copy in the place of the shop's store, or says in one line why not.
import { randomUUID } from 'node:crypto';
import { parseArgs } from 'node:util';
import { PortFailure } from './application/ports/portFailure.ts';
import { rebuildViews } from './application/rebuildViews.ts';
import { readConfig } from './adapters/config/readConfig.ts';
import type { StoreHolds } from './adapters/ledger/sqlite/checkStoreFile.ts';
import { removeDatabase } from './adapters/ledger/sqlite/durableFile.ts';
import { lockFolder } from './adapters/ledger/sqlite/lockFolder.ts';
import { putInPlace } from './adapters/ledger/sqlite/putInPlace.ts';
import { openStaged, stagedFileOf, stageStore } from './adapters/ledger/sqlite/stageStore.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { type Instant, instantFromMs, isoFromInstant } from './contract/index.ts';
import { storeFileIn } from './openStore.ts';
import { findProgramFolder } from './programFiles.ts';

async function main(): Promise<void> {
  const { copy, configFlags } = readFlags(process.argv.slice(2));
  const { dataFolder } = readConfig(readConfigFlag(configFlags, findProgramFolder()), process.env);
  const file = storeFileIn(dataFolder);
  takeFolder(dataFolder);
  const verdict = stageStore({ copy, file });
  if (verdict.kind !== 'sound') throw new StartError(`${copy}: ${verdict.sentence}; nothing was changed`);
  const { rebuiltCount } = await makeReady(file);
  const keptName = putInPlace({ file, keptAt: instantFromMs(Date.now()) });
  process.stdout.write(describe({ copy, holds: verdict.holds, rebuiltCount, keptName }));
}

function readFlags(flags: readonly string[]): { copy: string; configFlags: string[] } {
  try {
    const { values, positionals } = parseArgs({
      args: [...flags],
      options: { config: { type: 'string' } },
      allowPositionals: true,
    });
    const [copy, ...more] = positionals;
    if (copy === undefined || more.length > 0) throw new Error('name one file to restore');
    return { copy, configFlags: values.config === undefined ? [] : ['--config', values.config] };
  } catch (error) {
    throw new StartError(`${(error as Error).message.split('. ')[0] ?? ''}; usage: FILE [--config FILE]`);
  }
}

function takeFolder(dataFolder: string): void {
  try {
    lockFolder(dataFolder);
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
    const why = error.cause instanceof Error ? error.cause.message : String(error.cause);
    throw new StartError(`the data folder ${dataFolder} cannot be restored into: ${why}`);
  }
}

/** Brings what waits beside the store to the newest form and its views to what the facts say. */
async function makeReady(file: string): Promise<{ rebuiltCount: number }> {
  try {
    const { ledger, settle } = openStaged({ file, ledgerId: randomUUID() });
    const { differences } = await rebuildViews(ledger, { isMending: true });
    settle();
    return { rebuiltCount: differences.length };
  } catch (error) {
    removeDatabase(stagedFileOf(file));
    const cause = error instanceof PortFailure ? error.cause : error;
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new StartError(`the copy could not be made ready: ${why}; nothing was changed`);
  }
}

function describe({
  copy,
  holds,
  rebuiltCount,
  keptName,
}: {
  copy: string;
  holds: StoreHolds;
  rebuiltCount: number;
  keptName: string | null;
}): string {
  const { factCount, newestFactAt, readingCount, newestReadingAt, formVersion } = holds;
  const lines = [
    `Restored ${copy}, written in form ${formVersion}:`,
    `  ${factCount} facts, ${newest(newestFactAt)}`,
    `  ${readingCount} readings, ${newest(newestReadingAt)}`,
  ];
  if (rebuiltCount > 0) lines.push(`  ${rebuiltCount} views stood otherwise than the facts and were rebuilt`);
  if (keptName !== null) lines.push(`The store before it is kept beside it as ${keptName}`);
  return `${lines.join('\n')}\n`;
}

function newest(newestAt: Instant | null): string {
  return newestAt === null ? 'none yet' : `the newest of ${isoFromInstant(newestAt)}`;
}

main().catch(exitWithLine);
