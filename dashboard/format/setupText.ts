// What Setup says beyond plain words: who changed what, how long ago something was heard, how large a copy is.
import type { SettingsTouchWire } from '../../server/contract/index.ts';
import { formatDayClock, type Place } from './clock.ts';
import { numberFormat } from './intl.ts';
import type { Words } from './words.en.ts';

/** Where a change stands among others. */
export type Touch = Omit<SettingsTouchWire, 'version'>;

export interface TouchNaming {
  readonly words: Words;
  readonly place: Place;
  readonly bayName: (bayId: string) => string;
  readonly sensorName: (sensorId: string) => string;
  readonly cardName: (cardId: string) => string;
}

const MS_PER_MIN = 60_000;
const MEGABYTE_BYTES = 1_000_000;
const SHOWN_MIN_BYTES = 100_000;

/** Who changed what and when, as one line. */
export function formatTouch({ at, by, paths }: Touch, naming: TouchNaming): string {
  const { changes } = naming.words.setup;
  return changes.line({
    who: by ?? changes.somebody,
    what: paths.map((path) => pathName(path, naming)),
    when: formatDayClock(Date.parse(at), naming.place),
  });
}

/** How long ago: "just now", "4 minutes ago". */
export function formatAge(
  { seenAt, nowAt }: { readonly seenAt: number; readonly nowAt: number },
  { setup }: Words,
): string {
  const minutes = Math.floor((nowAt - seenAt) / MS_PER_MIN);
  return minutes < 1 ? setup.sensors.ageSeconds : setup.sensors.ageMinutes(minutes);
}

/** The size of a file: "1.4 MB". */
export function formatFileSize(sizeBytes: number, locale: string): string {
  const options = { style: 'unit', unit: 'megabyte', maximumFractionDigits: 1 } as const;
  return numberFormat(locale, options).format(Math.max(SHOWN_MIN_BYTES, sizeBytes) / MEGABYTE_BYTES);
}

/** What a path of the wire is called. */
function pathName(path: string, naming: TouchNaming): string {
  const { changes } = naming.words.setup;
  const [head = '', id = '', ...rest] = path.split('.');
  switch (head) {
    case 'people':
      return changes.person(id);
    case 'bays':
      return changes.bay(naming.bayName(id));
    case 'webhooks':
      return changes.webhook(id);
    case 'sensors':
      return changes.ofSensor(naming.sensorName(id), fieldName(rest.join('.'), naming.words));
    case 'cards':
      return rest.length === 0
        ? changes.newCard(naming.cardName(id))
        : changes.ofCard(naming.cardName(id), fieldName(rest.join('.'), naming.words));
    default:
      return fieldName(path, naming.words);
  }
}

function fieldName(path: string, { setup }: Words): string {
  return isNamed(path, setup.path) ? setup.path[path] : path;
}

function isNamed(path: string, names: Words['setup']['path']): path is keyof Words['setup']['path'] {
  return Object.hasOwn(names, path);
}
