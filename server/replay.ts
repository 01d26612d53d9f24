// `npm run replay`: days again, as fast as they compute. A diary is judged whole before its first fact is printed.
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { type Diary, DiaryError, openDiary } from './adapters/diary/openDiary.ts';
import { makeDiaryJudge } from './adapters/diary/judgeDiary.ts';
import { parseDiary } from './adapters/diary/parseDiary.ts';
import type { PlacedLine } from './adapters/diary/playLine.ts';
import { ConfigError, describeRejections, readConfig } from './adapters/config/readConfig.ts';
import { makeLog } from './adapters/log/pinoLog.ts';
import { calibrateCards } from './application/openShop.ts';
import { presentFact } from './application/present.ts';
import { exitWithLine, StartError } from './commandLine.ts';
import type { Rejection } from './contract/index.ts';
import { findProgramFolder } from './programFiles.ts';
import { replayDiary, type ReplayedShop, type ReplayEvent } from './replayDiary.ts';
import { makeScoreKeeper } from './replayScores.ts';
import { formatScores } from './formatScores.ts';

type TypeName = (typeof FACT_TYPES)[number];

interface Flags {
  readonly file: string;
  readonly configFile: string;
  /** Null when all are asked for. */
  readonly types: ReadonlySet<TypeName> | null;
  /** Null when the config decides. */
  readonly isLearning: boolean | null;
}

const USAGE =
  'usage: npm run --silent replay -- DIARY.jsonl [--config FILE] [--facts TYPE,…] [--learning on|off], "-" for standard input';
/** A foreign key or text could be endless; the start of the line says enough. */
const LINE_LENGTH_MAX = 1000;
/** Facts are handed on in pieces of about this size. */
const CHUNK_LENGTH_MAX = 65_536;

async function main(): Promise<void> {
  const flags = readFlags(process.argv.slice(2));
  const replayed = openSettings(flags);
  const diary = await openDiary(flags.file);
  await judgeWhole(diary, flags.file);
  await play(diary, { flags, replayed });
}

function readFlags(args: readonly string[]): Flags {
  const { values, positionals } = parseFlags(args);
  const [file, second] = positionals;
  if (file === undefined) throw new StartError(`no diary is named; ${USAGE}`);
  if (second !== undefined) throw new StartError(`one diary at a time, not also "${second}"; ${USAGE}`);
  const { learning } = values;
  if (learning !== undefined && learning !== 'on' && learning !== 'off')
    throw new StartError(`--learning is "${learning}"; allowed: on, off`);
  return {
    file,
    configFile: values.config ?? join(findProgramFolder(), 'config', 'shop.example.json'),
    types: values.facts === undefined ? null : readTypes(values.facts),
    isLearning: learning === undefined ? null : learning === 'on',
  };
}

function parseFlags(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { config: { type: 'string' }, facts: { type: 'string' }, learning: { type: 'string' } },
    });
  } catch (error) {
    throw new StartError(`${(error as Error).message.split('. ')[0] ?? 'wrong flags'}; ${USAGE}`);
  }
}

function readTypes(text: string): ReadonlySet<TypeName> {
  const wanted = text.split(',').map((type) => type.trim());
  const wrong = wanted.find((type) => !FACT_TYPES.some((one) => one === type));
  if (wrong === undefined) return new Set(FACT_TYPES.filter((one) => wanted.includes(one)));
  throw new StartError(`--facts: "${wrong}" is no type of fact; allowed: ${FACT_TYPES.join(', ')}`);
}

/** Only settings matter: no address is opened and no data folder touched, whatever the config or the environment says. */
function openSettings({ configFile, isLearning }: Flags): ReplayedShop {
  const settings = readConfig(configFile, {});
  const calibrated = calibrateCards(settings.cards);
  if (calibrated.kind === 'rejected') {
    const cardsFile = join(configFile, '..', settings.config.cardsFile);
    throw new StartError(describeRejections(cardsFile, calibrated.rejections));
  }
  const facts = { ...settings.shop, isLearning: isLearning ?? settings.shop.isLearning };
  return { facts, cards: calibrated.cards, log: makeLog('warn') };
}

async function judgeWhole(diary: Diary, file: string): Promise<void> {
  let isEmpty = true;
  for await (const _line of readPlaced(diary, file)) isEmpty = false;
  if (isEmpty) throw new DiaryError(`${file}: is empty; allowed: a reading, command or truth on each line`);
}

/** The lines of a diary as values; the first bad one ends it. */
async function* readPlaced(diary: Diary, file: string): AsyncGenerator<PlacedLine> {
  const judge = makeDiaryJudge();
  for await (const read of diary.readLines()) {
    const { lineIndex } = read;
    const parsed = read.kind === 'text' ? parseDiary(read.text) : read;
    if (parsed.kind === 'rejected') throw badLine(file, lineIndex, parsed.rejection);
    const rejection = judge(parsed.line);
    if (rejection !== null) throw badLine(file, lineIndex, rejection);
    yield { lineIndex, line: parsed.line };
  }
}

function badLine(file: string, lineIndex: number, { path, reason, allowed }: Rejection): DiaryError {
  const where = [`${file}:${lineIndex}`, path].filter((part) => part !== '').join(': ');
  return new DiaryError(`${where}: ${reason}; allowed: ${allowed}`);
}

async function play(
  diary: Diary,
  { flags, replayed }: { readonly flags: Flags; readonly replayed: ReplayedShop },
): Promise<void> {
  const { file, types } = flags;
  const scores = makeScoreKeeper(replayed.cards);
  let refusedCount = 0;
  let chunk = '';
  for await (const event of replayDiary(readPlaced(diary, file), replayed)) {
    switch (event.kind) {
      case 'truth':
        scores.takeTruth(event);
        break;
      case 'refused':
        refusedCount += 1;
        tellRefused(file, event);
        break;
      case 'fact':
        scores.takeFact(event.fact, event.label);
        if (types === null || types.has(event.fact.type)) chunk += lineFrom(event);
    }
    if (chunk.length < CHUNK_LENGTH_MAX) continue;
    await write(chunk);
    chunk = '';
  }
  await write(chunk);
  if (refusedCount > 0) process.stderr.write(`${file}: ${refusedCount} refused\n`);
  process.stderr.write(formatScores(scores.list()));
}

/** A no of the shop is part of the day, not an error of the diary. */
function tellRefused(file: string, { lineIndex, refusal }: Extract<ReplayEvent, { kind: 'refused' }>): void {
  const { code, sentence } = refusal;
  process.stderr.write(`${oneLine(`${file}:${lineIndex}: refused: ${code}: ${sentence}`)}\n`);
}

function lineFrom({ fact, label }: Extract<ReplayEvent, { kind: 'fact' }>): string {
  return `${JSON.stringify({ ...presentFact(fact), batch: label })}\n`;
}

/** Waits where the reader is slower than the shop. */
async function write(chunk: string): Promise<void> {
  if (!process.stdout.write(chunk)) await new Promise((resolve) => process.stdout.once('drain', resolve));
}

function oneLine(text: string): string {
  const line = text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ');
  return line.length > LINE_LENGTH_MAX ? `${line.slice(0, LINE_LENGTH_MAX)}…` : line;
}

/** Every type of fact (server/domain/facts.ts); one that is missing does not compile where the set is asked. */
const FACT_TYPES = [
  'SensorSeen',
  'SensorQuiet',
  'CardCalibrated',
  'BatchStarted',
  'BatchSpread',
  'BatchMoved',
  'LampSwitched',
  'CheckRecorded',
  'SandingStarted',
  'EstimateChanged',
  'BatchSanded',
  'BatchScrapped',
  'FactUndone',
  'LessonTaken',
  'AlertRaised',
  'AlertSubjectsChanged',
  'AlertAcknowledged',
  'AlertWithdrawn',
  'AlertDelivered',
  'DeliveryMarked',
  'SettingsChanged',
  'DevicePaired',
  'DeviceRenamed',
  'DeviceEnded',
  'SignedIn',
  'SessionEnded',
  'SignInRefused',
  'PassphraseChanged',
  'SensorUserChanged',
] as const;

// Whoever reads may stop early, as `head` does; nothing is left to do then.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(0);
});

main().catch((error: unknown) => {
  if (error instanceof StartError || error instanceof ConfigError) exitWithLine(error);
  if (!(error instanceof DiaryError)) throw error;
  process.stderr.write(`${oneLine(error.message)}\n`);
  process.exitCode = 2;
});
