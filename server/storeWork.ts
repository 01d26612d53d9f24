// `storeWork copy STORE TARGET` and `storeWork check FILE`: what takes seconds for a year of data, in a process of its own
// that the server starts; one line of JSON says what came of it.
import { ownStoreWork, type WorkVerdict } from './adapters/ledger/sqlite/storeWork.ts';

const [, , act = '', file = '', target = ''] = process.argv;
process.stdout.write(`${JSON.stringify(await work())}\n`);

function work(): Promise<WorkVerdict> {
  return act === 'copy' ? ownStoreWork.copy({ file, target }) : ownStoreWork.check(file);
}
