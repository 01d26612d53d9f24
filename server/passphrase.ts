// `npm run passphrase`: sets the managers' passphrase at the shop's own computer, so that nobody on the network can be
// the first. Works beside a running server, which ends every session then.
import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { parseWith, newPassphraseField } from './contract/index.ts';
import { makeSecrets } from './adapters/access/makeSecrets.ts';
import { readConfig } from './adapters/config/readConfig.ts';
import { makeSqliteAccess } from './adapters/ledger/sqlite/makeSqliteAccess.ts';
import { openKeyStore } from './adapters/ledger/sqlite/openKeyStore.ts';
import { makeWallClock } from './adapters/clock/pacedClock.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { findProgramFolder } from './programFiles.ts';

async function main(): Promise<void> {
  const { dataFolder } = readConfig(readConfigFlag(process.argv.slice(2), findProgramFolder()), process.env);
  const passphrase = await askPassphrase();
  const parsed = parseWith(newPassphraseField, passphrase);
  if (parsed.kind === 'rejected') {
    const [first] = parsed.rejections;
    throw new StartError(`the passphrase ${first?.reason}; allowed: ${first?.allowed}`);
  }
  const hash = await makeSecrets().hashPassphrase(parsed.value);
  const database = openKeyStore(dataFolder);
  const store = makeSqliteAccess(database);
  const before = await store.readPassphrase();
  await store.putPassphrase({ hash, changedAt: makeWallClock().nowAt(), isTold: false });
  database.close();
  process.stdout.write(
    before === null
      ? 'The passphrase is set. Managers sign in with it at /setup.\n'
      : 'The passphrase is changed. All who were signed in sign in anew.\n',
  );
}

/** At a terminal it is asked twice and not shown; from a file or another program the first line is taken. */
async function askPassphrase(): Promise<string> {
  const isTerminal = process.stdin.isTTY;
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const reader = createInterface({ input: process.stdin, output: silent, terminal: isTerminal });
  const lines = reader[Symbol.asyncIterator]();
  const ask = async (question: string): Promise<string> => {
    if (isTerminal) process.stderr.write(question);
    const line = (await lines.next()) as IteratorResult<string, undefined>;
    if (isTerminal) process.stderr.write('\n');
    if (line.done === true) throw new StartError('no passphrase came on standard input');
    return line.value;
  };
  try {
    const first = await ask('New passphrase (it is not shown as you type): ');
    if (isTerminal && (await ask('Once more: ')) !== first) throw new StartError('the two are not the same');
    return first;
  } finally {
    reader.close();
  }
}

main().catch(exitWithLine);
