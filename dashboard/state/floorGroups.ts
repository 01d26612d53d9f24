// The order of Floor's rows: by promise in one list, or bay by bay.
import type { BatchWire, BayWire } from '../../server/contract/index.ts';
import { epochAt, nextActAt } from '../format/phase.ts';
import type { FloorOrder } from './device.ts';

export interface FloorFilter {
  readonly bayId: string | null;
  readonly person: string | null;
}

export interface PanelGroup {
  /** The bay's name; null where the order needs none. */
  readonly name: string | null;
  readonly panels: readonly BatchWire[];
}

/** Whether a panel, or what an alert is about, is shown: nobody's is everybody's. */
export function isOnFloor(
  of: { readonly bayId: string | null; readonly by: string | null },
  { bayId, person }: FloorFilter,
): boolean {
  return (bayId === null || of.bayId === bayId) && (person === null || (of.by ?? person) === person);
}

/** The panels in their groups; within each the earliest promise first, those without one by their next act. */
export function groupPanels(
  panels: readonly BatchWire[],
  { order, bays }: { readonly order: FloorOrder; readonly bays: readonly BayWire[] },
): PanelGroup[] {
  const ordered = [...panels].sort(comparePromise);
  if (order === 'promise') return ordered.length === 0 ? [] : [{ name: null, panels: ordered }];
  const known = bays.map(({ id, name }) => ({
    name,
    panels: ordered.filter(({ bayId }) => bayId === id),
  }));
  return known.filter((group) => group.panels.length > 0);
}

/** The part of a list that the wall shows on a page; pages are as even as they can be. */
export function pageOf<Item>(
  items: readonly Item[],
  { fitCount, turnCount }: { readonly fitCount: number; readonly turnCount: number },
): { readonly shown: readonly Item[]; readonly index: number; readonly count: number } {
  const count = Math.max(1, Math.ceil(items.length / Math.max(1, fitCount)));
  const size = Math.ceil(items.length / count);
  const index = turnCount % count;
  return { shown: items.slice(index * size, (index + 1) * size), index, count };
}

function comparePromise(a: BatchWire, b: BatchWire): number {
  return (
    compare(epochAt(a.promisedAt), epochAt(b.promisedAt)) ||
    compare(nextActAt(a), nextActAt(b)) ||
    a.mixedAt.localeCompare(b.mixedAt) ||
    a.id.localeCompare(b.id)
  );
}

/** What has no time comes last. */
function compare(aAt: number | null, bAt: number | null): number {
  if (aAt === null || bAt === null) return Number(aAt === null) - Number(bAt === null);
  return aAt - bAt;
}
