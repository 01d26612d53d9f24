// Records as a table that any spreadsheet opens: RFC 4180, UTF-8 with its mark, units in the headings, dot decimals.
import type { RecordWire } from '../../contract/index.ts';

/** Spreadsheets take a file without it for their own country's code page. */
const BYTE_ORDER_MARK = '\uFEFF';
/** RFC 4180, section 2, rule 1. */
const LINE_END = '\r\n';

type Cell = string | number | boolean | null;

/** The text of the whole file in pieces: headings first, then one line a record. */
export async function* writeRecordsCsv(records: AsyncIterable<RecordWire>): AsyncGenerator<string> {
  yield BYTE_ORDER_MARK + csvLine(COLUMNS.map(([heading]) => heading));
  for await (const record of records) yield csvLine(COLUMNS.map(([, cellOf]) => cellOf(record)));
}

/** One line of cells, its end included. */
export function csvLine(cells: readonly Cell[]): string {
  return cells.map((cell) => csvCell(cell)).join(',') + LINE_END;
}

/**
 * One cell. A text that a spreadsheet would take for a formula gets an apostrophe before it; numbers are ours and stay
 * numbers, those below zero too.
 */
function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  const text = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  // RFC 4180, section 2, rules 6 and 7.
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Day and time as spreadsheets read it as such; the heading says that it is UTC. */
function instantCell(text: string | null): string | null {
  return text === null ? null : text.slice(0, 19).replace('T', ' ');
}

function rounded(value: number | null, step: number): number | null {
  return value === null ? null : Number((Math.round(value / step) * step).toFixed(6));
}

const TENTH_FRACTION = 0.1;

function checkText({ at, outcome, firstTry, by }: RecordWire['checks'][number]): string {
  const tries = firstTry === null ? '' : firstTry ? ', first try' : ', not the first try';
  return `${instantCell(at)} ${outcome}${tries}${by === null ? '' : ` (${by})`}`;
}

/** The largest cause with its minutes against the card. */
function reasonText({ window }: RecordWire): string | null {
  const [largest] = (window?.reasons ?? []).toSorted((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes));
  return largest === undefined ? null : `${largest.code} ${rounded(largest.minutes, TENTH_FRACTION)} min`;
}

const COLUMNS: readonly (readonly [heading: string, cellOf: (record: RecordWire) => Cell])[] = [
  ['repair order', ({ repairOrder }) => repairOrder],
  ['panel', ({ panel }) => panel],
  ['product', ({ cardName }) => cardName],
  ['stage', ({ stage }) => stage],
  ['thickness (mm)', ({ thicknessMm }) => thicknessMm],
  ['hardener (%)', ({ hardenerPct }) => hardenerPct],
  ['hardener weighed', ({ weighed }) => weighed],
  ['filler underneath (mm)', ({ underlayMm }) => underlayMm],
  ['substrate', ({ substrate }) => substrate],
  ['bay', ({ stays }) => stays.map(({ bayName }) => bayName).join(' > ')],
  ['air at mixing (°C)', ({ air }) => rounded(air.mixingC, TENTH_FRACTION)],
  ['lowest air while curing (°C)', ({ air }) => rounded(air.whileCuringMinC, TENTH_FRACTION)],
  ['highest air while curing (°C)', ({ air }) => rounded(air.whileCuringMaxC, TENTH_FRACTION)],
  ['humidity at mixing (%RH)', ({ air }) => rounded(air.humidityMixingPct, 1)],
  ['mixed at (UTC)', ({ mixedAt }) => instantCell(mixedAt)],
  ['spread at (UTC)', ({ spreadAt }) => instantCell(spreadAt)],
  ['test P10 at (UTC)', ({ window }) => instantCell(window?.p10At ?? null)],
  ['test P50 at (UTC)', ({ window }) => instantCell(window?.p50At ?? null)],
  ['test P90 at (UTC)', ({ window }) => instantCell(window?.p90At ?? null)],
  ['test alert at (UTC)', ({ testAlertAt }) => instantCell(testAlertAt)],
  ['first check at (UTC)', ({ said }) => instantCell(said?.firstCheckAt ?? null)],
  ['first check', ({ said }) => said?.outcome ?? null],
  [
    'stated probability at first check (%)',
    ({ said }) =>
      rounded(said === null || said.probability === null ? null : 100 * said.probability, TENTH_FRACTION),
  ],
  ['powdered at (UTC)', ({ said }) => instantCell(said?.powderedAt ?? null)],
  ['powdered after P50 (min)', ({ said }) => rounded(said?.afterP50Min ?? null, TENTH_FRACTION)],
  ['checks (UTC)', ({ checks }) => checks.map((check) => checkText(check)).join('; ')],
  ['sanding at (UTC)', ({ sandingAt }) => instantCell(sandingAt)],
  ['closed at (UTC)', ({ closedAt }) => instantCell(closedAt)],
  ['card time (min)', ({ window }) => rounded(window?.cardMin ?? null, TENTH_FRACTION)],
  ['expected time (min)', ({ window }) => rounded(window?.expectedMin ?? null, TENTH_FRACTION)],
  ['largest cause against the card', (record) => reasonText(record)],
  ['mixed by', ({ by }) => by.mixed],
  ['spread by', ({ by }) => by.spread],
  ['closed by', ({ by }) => by.closed],
  ['everyone on it', ({ by }) => by.everyone.join(' ')],
  ['cautions acknowledged at (UTC)', ({ cautions }) => instantCell(cautions.acknowledgedAt)],
  ['cautions acknowledged by', ({ cautions }) => cautions.by],
  ['batch', ({ id }) => id],
];
