// The command line: flags with defaults into values, or one line that says what is wrong.
import type { Instant } from '../server/contract/index.ts';
import { midnightOf } from './localDay.ts';
import type { Scenario } from './scenarios/scenario.ts';
import { scenarioByName, scenarios } from './scenarios/scenarioByName.ts';

export interface SimulatorOptions {
  readonly scenario: Scenario;
  readonly httpUrl: string;
  readonly mqttUrl: string;
  readonly topicPrefix: string;
  readonly seed: number;
  /** What the caller expects of the server's clock; null: whatever it is. */
  readonly speedRate: number | null;
}

export interface DiaryOptions {
  readonly scenario: Scenario;
  readonly path: string;
  readonly seed: number;
  readonly timeZone: string;
  readonly fromAt: Instant;
  readonly forDays: number;
}

export type ParsedArguments =
  | { readonly kind: 'run'; readonly options: SimulatorOptions }
  | { readonly kind: 'write'; readonly options: DiaryOptions }
  | { readonly kind: 'wrong'; readonly line: string };

/** Reads the arguments after the program's name. */
export function parseArguments(args: readonly string[]): ParsedArguments {
  const given = new Map<string, string>();
  for (let index = 0; index < args.length; index += 1) {
    const [flag = '', inline] = (args[index] ?? '').split(/=(.*)/s);
    if (!isFlag(flag)) return wrong(`unknown flag ${flag}; there are ${Object.keys(DEFAULTS).join(', ')}`);
    if (inline === undefined) index += 1;
    const value = inline ?? args[index];
    if (value === undefined || value.startsWith('--')) return wrong(`${flag} needs a value`);
    given.set(flag, value);
  }
  const value = (flag: Flag): string => given.get(flag) ?? DEFAULTS[flag];
  const scenario = scenarioByName(value('--scenario'));
  if (scenario === null) {
    return wrong(
      `unknown scenario ${value('--scenario')}; there are ${scenarios.map(({ name }) => name).join(', ')}`,
    );
  }
  const seed = Number(value('--seed'));
  if (!Number.isSafeInteger(seed)) return wrong(`--seed ${value('--seed')} is not a whole number`);
  const stray = (given.has('--diary') ? LIVE_FLAGS : DIARY_FLAGS).find((flag) => given.has(flag));
  if (stray !== undefined) {
    return wrong(
      given.has('--diary')
        ? `${stray} is for a play against a server and goes not with --diary`
        : `${stray} goes only with --diary`,
    );
  }
  return given.has('--diary') ? parseDiary(value, { scenario, seed }) : parseRun(value, { scenario, seed });
}

interface Common {
  readonly scenario: Scenario;
  readonly seed: number;
}

function parseRun(value: (flag: Flag) => string, common: Common): ParsedArguments {
  const [httpUrl, mqttUrl, topicPrefix] = [value('--http'), value('--mqtt'), value('--prefix')];
  if (!isUrl(httpUrl, /^https?:$/)) return wrong(`--http ${httpUrl} is not an http:// address`);
  if (!isUrl(mqttUrl, /^mqtts?:$/)) return wrong(`--mqtt ${mqttUrl} is not an mqtt:// address`);
  if (!/^[^#+\s/]+(\/[^#+\s/]+)*$/.test(topicPrefix)) return wrong(`--prefix ${topicPrefix} is not a topic`);
  const speedRate = value('--speed') === '' ? null : Number(value('--speed'));
  if (speedRate !== null && !(speedRate > 0))
    return wrong(`--speed ${value('--speed')} is not a positive number`);
  return {
    kind: 'run',
    options: { ...common, httpUrl: httpUrl.replace(/\/+$/, ''), mqttUrl, topicPrefix, speedRate },
  };
}

function parseDiary(value: (flag: Flag) => string, common: Common): ParsedArguments {
  const [path, timeZone, date] = [value('--diary'), value('--timeZone'), value('--from')];
  if (path === '') return wrong('--diary needs a value');
  if (date === '') return wrong('--diary needs --from, the first day');
  if (value('--days') === '') return wrong('--diary needs --days, how many days');
  if (!isTimeZone(timeZone)) return wrong(`--timeZone ${timeZone} is not a time zone`);
  const fromAt = midnightOf({ date, timeZone });
  if (fromAt === null) return wrong(`--from ${date} is not a day such as 2026-01-12`);
  const forDays = Number(value('--days'));
  if (!Number.isInteger(forDays) || forDays < 1 || forDays > FOR_MAX_DAYS) {
    return wrong(`--days ${value('--days')} is not a whole number from 1 to ${FOR_MAX_DAYS}`);
  }
  return { kind: 'write', options: { ...common, path, timeZone, fromAt, forDays } };
}

function wrong(line: string): ParsedArguments {
  return { kind: 'wrong', line: `simulate: ${line}` };
}

function isFlag(text: string): text is Flag {
  return Object.hasOwn(DEFAULTS, text);
}

function isUrl(text: string, protocol: RegExp): boolean {
  return URL.canParse(text) && protocol.test(new URL(text).protocol);
}

function isTimeZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

type Flag = keyof typeof DEFAULTS;

const DEFAULTS = {
  '--scenario': 'cold-morning',
  '--http': 'http://127.0.0.1:4180',
  '--mqtt': 'mqtt://127.0.0.1:1883',
  '--prefix': 'sandby/v1',
  '--seed': '7',
  '--speed': '',
  '--diary': '',
  '--from': '',
  '--days': '',
  '--timeZone': 'UTC',
};
const LIVE_FLAGS: readonly Flag[] = ['--http', '--mqtt', '--prefix', '--speed'];
const DIARY_FLAGS: readonly Flag[] = ['--from', '--days', '--timeZone'];
const FOR_MAX_DAYS = 1000;
