// Plays seeds in a process of its own and prints a report a line: the tests' coverage would make them several times as slow.
import { playSeed } from './playSeed.ts';

const [from = '', count = ''] = process.argv.slice(2);
process.on('unhandledRejection', (cause) => {
  process.stderr.write(`unhandled: ${cause instanceof Error ? String(cause.stack) : String(cause)}\n`);
  process.exit(3);
});
for (let seed = Number(from); seed < Number(from) + Number(count); seed += 1) {
  process.stdout.write(`${JSON.stringify(await playSeed(seed))}\n`);
}
