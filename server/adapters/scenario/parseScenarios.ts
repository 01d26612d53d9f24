// From the text of a scenario file to scenarios, or to the first thing that is wrong with it.
import { parseWith, type Rejection } from '../../contract/index.ts';
import { type Scenario, scenarioFileSchema, scenarioSchema } from './scenarioSchema.ts';

/** A scenario and where it stands in its file: '' when it is the whole of it. */
export interface PlacedScenario {
  readonly place: string;
  readonly scenario: Scenario;
}

export type ParsedScenarios =
  | { readonly kind: 'parsed'; readonly scenarios: readonly PlacedScenario[] }
  | { readonly kind: 'rejected'; readonly rejection: Rejection };

/** Parses one scenario, or an object that holds several; strictly, since a slip in a field's name would be a wrong number. */
export function parseScenarios(text: string): ParsedScenarios {
  if (text.trim() === '') return rejected({ path: '', reason: 'is empty', allowed: 'a scenario as JSON' });
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    return rejected({ path: '', reason: `is not JSON (${(error as Error).message})`, allowed: 'JSON' });
  }
  return isFileOfSeveral(json) ? parseFile(json) : parseAll([{ place: '', input: json }]);
}

/** A rejection of a scenario as one of its file. */
export function rejectionIn(place: string, rejection: Rejection): Rejection {
  return { ...rejection, path: [place, rejection.path].filter((part) => part !== '').join('.') };
}

interface Unparsed {
  readonly place: string;
  readonly input: unknown;
}

function isFileOfSeveral(json: unknown): boolean {
  return typeof json === 'object' && json !== null && Object.hasOwn(json, 'scenarios');
}

function parseFile(json: unknown): ParsedScenarios {
  const file = parseWith(scenarioFileSchema, json);
  if (file.kind === 'rejected') return rejectFirst(file.rejections, { place: '', input: json });
  return parseAll(file.value.scenarios.map((input, index) => ({ place: `scenarios.${index}`, input })));
}

/** One after the other and no further than the first bad one: a huge bad file makes few rejections. */
function parseAll(unparsed: readonly Unparsed[]): ParsedScenarios {
  const scenarios: PlacedScenario[] = [];
  for (const { place, input } of unparsed) {
    const parsed = parseWith(scenarioSchema, input);
    if (parsed.kind === 'rejected') return rejectFirst(parsed.rejections, { place, input });
    scenarios.push({ place, scenario: parsed.value });
  }
  return { kind: 'parsed', scenarios };
}

function rejectFirst(rejections: readonly Rejection[], { place, input }: Unparsed): ParsedScenarios {
  const [first] = rejections;
  if (first === undefined) throw new Error('a rejected scenario has a rejection');
  const found = valueAt(input, first.path);
  const isEndless = typeof found === 'number' && !Number.isFinite(found);
  const reason = isEndless ? 'is not a finite number' : first.reason;
  return rejected(rejectionIn(place, { ...first, reason }));
}

/** JSON has no infinity, but 1e999 is one. */
function valueAt(input: unknown, path: string): unknown {
  let found = input;
  for (const key of path.split('.')) {
    if (typeof found !== 'object' || found === null || !Object.hasOwn(found, key)) return undefined;
    found = (found as Readonly<Record<string, unknown>>)[key];
  }
  return found;
}

function rejected(rejection: Rejection): ParsedScenarios {
  return { kind: 'rejected', rejection };
}
