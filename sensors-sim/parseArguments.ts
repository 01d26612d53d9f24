// The command line: flags with defaults into values, or one line that says what is wrong.
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

export type ParsedArguments =
  | { readonly kind: 'run'; readonly options: SimulatorOptions }
  | { readonly kind: 'wrong'; readonly line: string };

/** Reads the arguments after the program's name. */
export function parseArguments(args: readonly string[]): ParsedArguments {
  const values = new Map(Object.entries(DEFAULTS));
  for (let index = 0; index < args.length; index += 1) {
    const [flag = '', inline] = (args[index] ?? '').split(/=(.*)/s);
    if (!values.has(flag)) return wrong(`unknown flag ${flag}; there are ${[...values.keys()].join(', ')}`);
    if (inline === undefined) index += 1;
    const value = inline ?? args[index];
    if (value === undefined || value.startsWith('--')) return wrong(`${flag} needs a value`);
    values.set(flag, value);
  }
  const value = (flag: keyof typeof DEFAULTS): string => values.get(flag) ?? '';
  const scenario = scenarioByName(value('--scenario'));
  if (scenario === null) {
    return wrong(
      `unknown scenario ${value('--scenario')}; there are ${scenarios.map(({ name }) => name).join(', ')}`,
    );
  }
  const [httpUrl, mqttUrl, topicPrefix] = [value('--http'), value('--mqtt'), value('--prefix')];
  if (!isUrl(httpUrl, /^https?:$/)) return wrong(`--http ${httpUrl} is not an http:// address`);
  if (!isUrl(mqttUrl, /^mqtts?:$/)) return wrong(`--mqtt ${mqttUrl} is not an mqtt:// address`);
  if (!/^[^#+\s/]+(\/[^#+\s/]+)*$/.test(topicPrefix)) return wrong(`--prefix ${topicPrefix} is not a topic`);
  const seed = Number(value('--seed'));
  if (!Number.isSafeInteger(seed)) return wrong(`--seed ${value('--seed')} is not a whole number`);
  const speedRate = value('--speed') === '' ? null : Number(value('--speed'));
  if (speedRate !== null && !(speedRate > 0))
    return wrong(`--speed ${value('--speed')} is not a positive number`);
  return {
    kind: 'run',
    options: { scenario, httpUrl: httpUrl.replace(/\/+$/, ''), mqttUrl, topicPrefix, seed, speedRate },
  };
}

function wrong(line: string): ParsedArguments {
  return { kind: 'wrong', line: `simulate: ${line}` };
}

function isUrl(text: string, protocol: RegExp): boolean {
  return URL.canParse(text) && protocol.test(new URL(text).protocol);
}

const DEFAULTS = {
  '--scenario': 'cold-morning',
  '--http': 'http://127.0.0.1:4180',
  '--mqtt': 'mqtt://127.0.0.1:1883',
  '--prefix': 'sandby/v1',
  '--seed': '7',
  '--speed': '',
};
