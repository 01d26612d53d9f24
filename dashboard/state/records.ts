// What of the records this device looks at: the filter, which outlives a look at one repair order, and the paths.
import { signal } from '@preact/signals';
import type { FieldError } from './sources.ts';

/** As typed; an empty text asks for everything. */
export interface RecordsFilter {
  readonly from: string;
  readonly to: string;
  readonly cardId: string;
  readonly bayId: string;
  readonly by: string;
  readonly text: string;
}

/** What came of a read; refused names what the server would take. */
export type RecordsAnswer<Body> =
  | { readonly kind: 'read'; readonly body: Body }
  | { readonly kind: 'refused'; readonly error: FieldError }
  | { readonly kind: 'unknown' }
  | { readonly kind: 'failed' };

export const noFilter: RecordsFilter = { from: '', to: '', cardId: '', bayId: '', by: '', text: '' };

export const $recordsFilter = signal<RecordsFilter>(noFilter);

const ROOT = '/records';

/** How many of the fields ask for something. */
export function countAsked(filter: RecordsFilter): number {
  return Object.values(filter).filter((text: string) => text.trim() !== '').length;
}

/** Whether the days are in order; those that are missing are. */
export function isSpanInOrder({ from, to }: RecordsFilter): boolean {
  return from === '' || to === '' || from <= to;
}

/** The query of a filter, in the order of its fields; the next page begins before an instant. */
export function queryOf(filter: RecordsFilter, before: string | null = null): string {
  const asked = Object.entries(filter).flatMap(([name, text]: [string, string]) =>
    text.trim() === '' ? [] : [[name, text.trim()]],
  );
  return new URLSearchParams([...asked, ...(before === null ? [] : [['before', before]])]).toString();
}

/** Where the table with the same filter is downloaded. */
export function tablePathOf(filter: RecordsFilter): string {
  const query = queryOf(filter);
  return `/api/v1/records.csv${query === '' ? '' : `?${query}`}`;
}

/** The page of a repair order. */
export function pathOfOrder(repairOrder: string): string {
  return `${ROOT}/${encodeURIComponent(repairOrder)}`;
}

/** The repair order that a path names; null on the list. */
export function orderOfPath(path: string): string | null {
  const [, name = ''] = /^\/records\/([^/]+)\/?$/.exec(path) ?? [];
  if (name === '') return null;
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
