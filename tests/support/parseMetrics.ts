// A strict reader of the Prometheus text format 0.0.4, written from its rules alone:
// https://prometheus.io/docs/instrumenting/exposition_formats/ (text format details). It knows nothing of our writer.

export interface ReadFamily {
  readonly name: string;
  readonly help: string;
  readonly type: string;
  readonly samples: readonly ReadSample[];
}

export interface ReadSample {
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly measurement: number;
}

const NAME = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const SAMPLE = new RegExp(`^(${NAME})(?:\\{(.*)\\})? (\\S+)$`);
const LABEL = /^([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\\n]|\\\\|\\"|\\n)*)"(,|$)/;
/** What may stand behind the name of a family of this type. */
const SUFFIXES: Readonly<Record<string, readonly string[]>> = {
  counter: [''],
  gauge: [''],
  histogram: ['_bucket', '_sum', '_count'],
};

/** Reads a whole answer; throws at the first line that breaks a rule. */
export function parseMetrics(text: string): ReadFamily[] {
  if (!text.endsWith('\n')) throw new Error('the last line must end with a line feed');
  const families: { name: string; help: string; type: string; samples: ReadSample[] }[] = [];
  const seen = new Set<string>();
  let help: { name: string; text: string } | null = null;
  for (const line of text.slice(0, -1).split('\n')) {
    const [, keyword, name = '', rest = ''] = /^# (HELP|TYPE) (\S+) (.*)$/.exec(line) ?? [];
    if (keyword === 'HELP') {
      help = { name, text: rest };
    } else if (keyword === 'TYPE') {
      if (families.some((family) => family.name === name)) throw new Error(`a second TYPE of ${name}`);
      if (help?.name !== name) throw new Error(`no HELP just before the TYPE of ${name}`);
      families.push({ name, help: help.text, type: rest, samples: [] });
    } else {
      const sample = parseSample(line);
      const family = families.at(-1);
      const suffixes = SUFFIXES[family?.type ?? ''] ?? [];
      if (family === undefined || !suffixes.some((suffix) => sample.name === family.name + suffix))
        throw new Error(`"${line}" stands under no TYPE of its own`);
      const identity =
        sample.name + JSON.stringify(Object.entries(sample.labels).toSorted(([a], [b]) => (a < b ? -1 : 1)));
      if (seen.has(identity)) throw new Error(`"${line}" is told twice`);
      seen.add(identity);
      family.samples.push(sample);
    }
  }
  return families;
}

function parseSample(line: string): ReadSample {
  const [, name = '', inBraces = '', written = ''] = SAMPLE.exec(line) ?? [];
  if (name === '') throw new Error(`"${line}" is no sample`);
  const labels: Record<string, string> = {};
  for (let left = inBraces; left !== '';) {
    const [whole = '', label = '', value = ''] = LABEL.exec(left) ?? [];
    if (whole === '') throw new Error(`"${line}" has labels that cannot be read`);
    labels[label] = value.replaceAll(/\\(.)/g, (_, escaped: string) => (escaped === 'n' ? '\n' : escaped));
    left = left.slice(whole.length);
  }
  const measurement = written === '+Inf' ? Infinity : written === '-Inf' ? -Infinity : Number(written);
  if (Number.isNaN(measurement) && written !== 'NaN') throw new Error(`"${line}" has no number`);
  return { name, labels, measurement };
}
