// `npm run load -- [--minutes M] [--batches N] [--pages N]`: a big shop on a bad day against the built server: 200 readings
// a second, 50 screens, 500 open batches; then the same readings into a bare broker with a bare SQLite writer. It prints
// figures and what was lost; it asserts nothing but that nothing was.
import { cpus, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { runBare } from './loadBare.ts';
import { runClients } from './loadClients.ts';
import { formatLoad, type LoadOptions } from './loadFigures.ts';
import { loadBare, loadShop } from './loadRun.ts';

const { values } = parseArgs({
  options: {
    role: { type: 'string', default: 'load' },
    minutes: { type: 'string', default: '10' },
    batches: { type: 'string', default: '500' },
    screens: { type: 'string', default: '50' },
    readings: { type: 'string', default: '200' },
    pages: { type: 'string', default: '3' },
    'bare-minutes': { type: 'string', default: '1' },
  },
});

/** One file for the three processes of a run, so that each can start the others. */
switch (values.role) {
  case 'clients':
    runClients();
    break;
  case 'bare':
    await runBare();
    break;
  default:
    await main();
}

async function main(): Promise<void> {
  const options: LoadOptions = {
    durationS: 60 * Number(values.minutes),
    batchCount: Number(values.batches),
    screenCount: Number(values.screens),
    readingsPerS: Number(values.readings),
    pageCount: Number(values.pages),
  };
  say(`${cpus().length} × ${cpus()[0]?.model}, load average before ${loadText()}`);
  const bare = await loadBare({ ...options, durationS: 60 * Number(values['bare-minutes']) });
  const shop = await loadShop(options);
  say(formatLoad(options, { shop, bare }));
  say(`load average after ${loadText()}`);
  say(JSON.stringify({ options, shop, bare }));
  process.exitCode = shop.lostCount === 0 ? 0 : 1;
}

function loadText(): string {
  return loadavg()
    .map((one) => one.toFixed(1))
    .join(' ');
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
