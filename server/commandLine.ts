// The command line of the programs in this folder: a few flags, and one clear line when they are wrong.
import { join } from 'node:path';
import { parseArgs } from 'node:util';

/** A start that cannot be; its message is one line and the exit code is 2. */
export class StartError extends Error {
  override readonly name = 'StartError';
}

/** The config file that the flags name; the demo's when they name none. */
export function readConfigFlag(flags: readonly string[], programFolder: string): string {
  try {
    const { values } = parseArgs({ args: [...flags], options: { config: { type: 'string' } } });
    return values.config ?? join(programFolder, 'config', 'demo.json');
  } catch (error) {
    throw new StartError(
      `${(error as Error).message.split('. ')[0] ?? 'wrong flags'}; usage: [--config FILE]`,
    );
  }
}

/** Prints one line and ends with 2. */
export function exitWithLine(error: unknown): never {
  process.stderr.write(
    `sandby: ${error instanceof Error ? error.message.replaceAll('\n', ' ') : String(error)}\n`,
  );
  process.exit(2);
}
