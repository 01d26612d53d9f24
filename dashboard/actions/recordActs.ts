// What people do on Records: filter, read, open another page, print.
import type { RecordsWire, ReliabilityWire, RepairOrderWire } from '../../server/contract/index.ts';
import { readOrder, readPromises, readRecords } from '../feed/records.ts';
import {
  $recordsFilter,
  noFilter,
  queryOf,
  type RecordsAnswer,
  type RecordsFilter,
} from '../state/records.ts';
import { $path } from '../state/sources.ts';

/** Changes what is asked for. */
export function setRecordsFilter(changes: Partial<RecordsFilter>): void {
  $recordsFilter.value = { ...$recordsFilter.peek(), ...changes };
}

/** Asks for everything. */
export function clearRecordsFilter(): void {
  $recordsFilter.value = noFilter;
}

/** The newest page of what is asked for, or the one before an instant. */
export function listRecords(
  filter: RecordsFilter,
  before: string | null = null,
): Promise<RecordsAnswer<RecordsWire>> {
  return readRecords(queryOf(filter, before));
}

/** All of a repair order. */
export function openOrder(repairOrder: string): Promise<RecordsAnswer<RepairOrderWire>> {
  return readOrder(repairOrder);
}

/** The honest figures. */
export function listPromises(): Promise<RecordsAnswer<ReliabilityWire>> {
  return readPromises();
}

/** Opens another page of the program without loading it anew; with a key held down the browser does as it likes. */
export function followLink(event: MouseEvent, path: string): void {
  if (event.metaKey || event.ctrlKey || event.shiftKey) return;
  event.preventDefault();
  $path.value = path;
}

/** Opens the browser's print dialog. */
export function printPage(): void {
  globalThis.print();
}
