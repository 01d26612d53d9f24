// The simulator's program: reads its arguments, plays a scenario against a running server, ends when told to.
import { parseArguments } from './parseArguments.ts';
import { playLive } from './transport/playLive.ts';

const parsed = parseArguments(process.argv.slice(2));
if (parsed.kind === 'wrong') {
  process.stderr.write(`${parsed.line}\n`);
  process.exit(2);
}

const stop = (): void => process.exit(0);
process.once('SIGTERM', stop);
process.once('SIGINT', stop);
// A server that started this program is gone when its channel closes.
process.once('disconnect', stop);

await playLive(parsed.options);
