// `npm run forecast`: the engine alone. All files are read and judged before the first line is printed.
import { parseArgs } from 'node:util';
import { parseScenarios, rejectionIn } from './adapters/scenario/parseScenarios.ts';
import { readScenarioText } from './adapters/scenario/readScenarioText.ts';
import { exitWithLine, StartError } from './commandLine.ts';
import type { Rejection } from './contract/index.ts';
import { type Calibrate, forecastScenario, judgeScenario, makeCalibrate } from './forecastScenario.ts';

type Judged = Parameters<typeof forecastScenario>[0];

/** A file that cannot be used; the message is one line that begins with its name. */
class BadFile extends Error {
  override readonly name = 'BadFile';

  constructor(file: string, { path, reason, allowed }: Rejection) {
    const where = path === '' ? file : `${file}: ${path}`;
    super(oneLine(allowed === '' ? `${where}: ${reason}` : `${where}: ${reason}; allowed: ${allowed}`));
  }
}

/** A foreign key or text could be endless; the start of the line says enough. */
const LINE_LENGTH_MAX = 1000;

async function main(): Promise<void> {
  const calibrate = makeCalibrate();
  const judged: Judged[] = [];
  for (const file of readFileNames(process.argv.slice(2))) judged.push(...(await judgeFile(file, calibrate)));
  const lines = judged.map((one) => `${JSON.stringify(forecastScenario(one))}\n`);
  process.stdout.write(lines.join(''));
}

function readFileNames(flags: readonly string[]): string[] {
  const usage = 'usage: npm run --silent forecast -- FILE…, "-" for standard input';
  try {
    const { positionals } = parseArgs({ args: [...flags], allowPositionals: true, options: {} });
    if (positionals.length > 0) return positionals;
  } catch (error) {
    throw new StartError(`${(error as Error).message.split('. ')[0] ?? 'wrong flags'}; ${usage}`);
  }
  throw new StartError(`no file is named; ${usage}`);
}

async function judgeFile(file: string, calibrate: Calibrate): Promise<Judged[]> {
  const read = await readScenarioText(file);
  if (read.kind === 'unreadable') throw new BadFile(file, { path: '', reason: read.reason, allowed: '' });
  const parsed = parseScenarios(read.text);
  if (parsed.kind === 'rejected') throw new BadFile(file, parsed.rejection);
  return parsed.scenarios.map(({ place, scenario }) => {
    const one = judgeScenario(scenario, calibrate);
    if (one.kind === 'judged') return one;
    throw new BadFile(file, rejectionIn(place, one.rejection));
  });
}

function oneLine(text: string): string {
  const line = text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ');
  return line.length > LINE_LENGTH_MAX ? `${line.slice(0, LINE_LENGTH_MAX)}…` : line;
}

// Whoever reads may stop early, as `head` does; that is no trouble of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

main().catch((error: unknown) => {
  if (error instanceof StartError) exitWithLine(error);
  if (!(error instanceof BadFile)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
});
