// `npm run rebuild`: views from facts, compared with those stored; says what differed and mends it.
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { rebuildViews } from './application/rebuildViews.ts';
import { readConfig } from './adapters/config/readConfig.ts';
import { openSqliteStore } from './adapters/ledger/sqlite/openSqliteStore.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { findProgramFolder } from './programFiles.ts';

async function main(): Promise<void> {
  const { dataFolder } = readConfig(readConfigFlag(process.argv.slice(2), findProgramFolder()), process.env);
  const file = join(dataFolder, 'sandby.sqlite');
  if (!existsSync(file)) throw new StartError(`${dataFolder} holds no shop yet`);
  const { ledger } = openSqliteStore({ file, ledgerIdForNew: randomUUID() });
  const { factCount, viewCount, differences } = await rebuildViews(ledger);
  await ledger.close();
  process.stdout.write(`${JSON.stringify({ factCount, viewCount, differences })}\n`);
  process.exitCode = differences.length === 0 ? 0 : 1;
}

main().catch(exitWithLine);
