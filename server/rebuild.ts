// `npm run rebuild`: views from facts, compared with those stored; says what differed, and mends it unless the server runs.
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Ledger } from './application/ports/ledger.ts';
import { PortFailure } from './application/ports/portFailure.ts';
import { rebuildViews } from './application/rebuildViews.ts';
import { readConfig } from './adapters/config/readConfig.ts';
import { lockFolder } from './adapters/ledger/sqlite/lockFolder.ts';
import { openToRead } from './adapters/ledger/sqlite/openDatabase.ts';
import { makeSqliteStore, openSqliteStore } from './adapters/ledger/sqlite/openSqliteStore.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { findProgramFolder } from './programFiles.ts';

async function main(): Promise<void> {
  const { dataFolder } = readConfig(readConfigFlag(process.argv.slice(2), findProgramFolder()), process.env);
  const file = join(dataFolder, 'sandby.sqlite');
  if (!existsSync(file)) throw new StartError(`${dataFolder} holds no shop yet`);
  const isAlone = takeFolder(dataFolder);
  const ledger = isAlone ? openSqliteStore({ file, ledgerIdForNew: randomUUID() }).ledger : openBeside(file);
  const report = await rebuildViews(ledger, { isMending: isAlone });
  await ledger.close();
  process.stdout.write(`${JSON.stringify(report)}\n`);
  process.exitCode = report.differences.length === 0 ? 0 : 1;
}

/** Beside a running server views are only compared, and nothing is written: it would write its own over the mended ones. */
function takeFolder(dataFolder: string): boolean {
  try {
    lockFolder(dataFolder);
    return true;
  } catch (error) {
    if (error instanceof PortFailure) return false;
    throw error;
  }
}

/** The other one may be an older program, which could not go on with a store of our form. */
function openBeside(file: string): Ledger {
  try {
    return makeSqliteStore(openToRead(file)).ledger;
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new StartError(`another Sandby works on ${file}, and it cannot be compared meanwhile: ${why}`);
  }
}

main().catch(exitWithLine);
