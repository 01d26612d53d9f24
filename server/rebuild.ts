// `npm run rebuild`: views from facts, compared with those stored; says what differed, and mends it unless the server runs.
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { PortFailure } from './application/ports/portFailure.ts';
import { rebuildViews } from './application/rebuildViews.ts';
import { readConfig } from './adapters/config/readConfig.ts';
import { lockFolder } from './adapters/ledger/sqlite/lockFolder.ts';
import { openSqliteStore } from './adapters/ledger/sqlite/openSqliteStore.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { findProgramFolder } from './programFiles.ts';

async function main(): Promise<void> {
  const { dataFolder } = readConfig(readConfigFlag(process.argv.slice(2), findProgramFolder()), process.env);
  const file = join(dataFolder, 'sandby.sqlite');
  if (!existsSync(file)) throw new StartError(`${dataFolder} holds no shop yet`);
  const isAlone = takeFolder(dataFolder);
  const { ledger } = openSqliteStore({ file, ledgerIdForNew: randomUUID() });
  const report = await rebuildViews(ledger, { isMending: isAlone });
  await ledger.close();
  process.stdout.write(`${JSON.stringify(report)}\n`);
  process.exitCode = report.differences.length === 0 ? 0 : 1;
}

/** Beside a running server views are only compared: it would write its own over the mended ones. */
function takeFolder(dataFolder: string): boolean {
  try {
    lockFolder(dataFolder);
    return true;
  } catch (error) {
    if (error instanceof PortFailure) return false;
    throw error;
  }
}

main().catch(exitWithLine);
