// Which alerts a screen shows, in which order, and which of them lie behind Floor's filters. Pure, for a table of cases.
import type {
  AlertKind,
  AlertPlace,
  AlertSubjectWire,
  AlertWire,
  BatchWire,
} from '../../server/contract/index.ts';
import { type FloorFilter, isOnFloor } from './floorGroups.ts';
import type { Whose } from './slips.ts';

export interface AlertAsk {
  readonly place: AlertPlace;
  readonly whose: Whose;
  /** Open ones, as they will be once what was tapped is stored. */
  readonly batches: readonly BatchWire[];
}

/**
 * The alerts of a screen that still call, calls before warnings, the more urgent and then the older first. Calls to the one
 * person of a device follow that person onto every screen.
 */
export function alertsFor(alerts: readonly AlertWire[], ask: AlertAsk): AlertWire[] {
  const byId = new Map(ask.batches.map((batch) => [batch.id, batch]));
  return alerts
    .filter((alert) => isFor(alert, ask) && alert.subjects.some((one) => stillCalls(alert.kind, one, byId)))
    .sort(
      (a, b) =>
        URGENCY.indexOf(a.kind) - URGENCY.indexOf(b.kind) ||
        a.raisedAt.localeCompare(b.raisedAt) ||
        a.id.localeCompare(b.id),
    );
}

/** Whether somebody must do something now; all else warns. */
export function isCall(kind: AlertKind): boolean {
  return kind === 'spreadBy' || kind === 'test';
}

/** Parts alerts by Floor's filters: a line for many is inside with one of its subjects; sensors are nobody's. */
export function partByFilter(
  alerts: readonly AlertWire[],
  { filter, batches }: { readonly filter: FloorFilter; readonly batches: readonly BatchWire[] },
): { readonly inside: AlertWire[]; readonly outside: AlertWire[] } {
  const byId = new Map(batches.map((batch) => [batch.id, batch]));
  const isInside = ({ subjects }: AlertWire): boolean =>
    subjects.some((one) => {
      const batch = one.batchId === null ? undefined : byId.get(one.batchId);
      return isOnFloor(batch ?? one, filter);
    });
  return { inside: alerts.filter(isInside), outside: alerts.filter((alert) => !isInside(alert)) };
}

function isFor({ kind, to, people }: AlertWire, { place, whose }: AlertAsk): boolean {
  const { person, isOnlyMine } = whose;
  if (place === 'bench')
    return (
      to.includes('bench') &&
      (person === null || !isOnlyMine || people.length === 0 || people.includes(person))
    );
  return to.includes(place) || (isCall(kind) && person !== null && people.includes(person));
}

/** A batch that has gone on calls no more, before the server says so. */
function stillCalls(
  kind: AlertKind,
  { batchId }: AlertSubjectWire,
  byId: ReadonlyMap<string, BatchWire>,
): boolean {
  if (batchId === null) return true;
  const batch = byId.get(batchId);
  if (batch === undefined) return false;
  return kind === 'spreadBy' ? batch.spreadAt === null : batch.stage !== 'sanding';
}

/** What spoils first comes first. */
const URGENCY: readonly AlertKind[] = [
  'spreadBy',
  'test',
  'waiting',
  'condensation',
  'tooHot',
  'tooCold',
  'slowing',
  'sensorQuiet',
  'sensorBack',
];
