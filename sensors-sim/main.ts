// The simulator's program: reads its arguments, then plays a scenario against a running server until it is told to end,
// or writes the diary of a shop without a server.
import { parseArguments } from './parseArguments.ts';
import { playLive } from './transport/playLive.ts';
import { writeDiary } from './transport/writeDiary.ts';

const parsed = parseArguments(process.argv.slice(2));

const stop = (): void => process.exit(0);
process.once('SIGTERM', stop);
process.once('SIGINT', stop);
// A server that started this program is gone when its channel closes.
process.once('disconnect', stop);

switch (parsed.kind) {
  case 'run':
    await playLive(parsed.options);
    break;
  case 'write':
    await writeDiary(parsed.options.path, parsed.options).catch((error: unknown) => {
      end(`simulate: ${error instanceof Error ? error.message : String(error)}`);
    });
    break;
  case 'wrong':
    end(parsed.line);
}

function end(line: string): void {
  process.stderr.write(`${line}\n`);
  process.exit(2);
}
