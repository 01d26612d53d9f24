// The last hop of every change: feed → state. Pure, so that a table of cases can hold it.
import type {
  AirMessage,
  AlertWire,
  BatchWire,
  BayWire,
  ChangeWire,
  SnapshotWire,
} from '../../server/contract/index.ts';
import type { Applied, LiveMessage, LiveState } from './liveState.ts';

/** The state after a message, and what became of the message. */
export function applyLiveMessage(state: LiveState | null, message: LiveMessage): Applied {
  switch (message.kind) {
    case 'snapshot':
      return applySnapshot(state, message.snapshot);
    case 'change':
      return applyChange(state, message.change);
    case 'air':
      return applyAir(state, message.air);
    case 'resync':
      return { state, outcome: 'behind' };
    default:
      return { state, outcome: 'ignored' };
  }
}

/** Takes a batch that a command answered with, ahead of the live change that will say the same. */
export function mergeBatch(state: LiveState, batch: BatchWire): LiveState {
  const held = [...state.batches, ...(state.closed ?? [])].find(({ id }) => id === batch.id);
  if (held !== undefined && held.version >= batch.version) return state;
  return { ...state, ...withBatches(state, [batch]) };
}

/** Takes from a snapshot what no change tells and no sequence orders: how the shop's parts are, also where changes have overtaken it. */
export function withTroubles(
  state: LiveState | null,
  { health, troubles, outbox }: Pick<SnapshotWire, 'health' | 'troubles' | 'outbox'>,
): LiveState | null {
  return state === null ? null : { ...state, health, troubles, outbox };
}

/** Whether a batch still stands on the Bench. */
export function isOpen(batch: BatchWire): boolean {
  return batch.stage !== 'sanded' && batch.stage !== 'scrapped';
}

function applySnapshot(state: LiveState | null, snapshot: SnapshotWire): Applied {
  const isOlder =
    state !== null && state.ledgerId === snapshot.ledgerId && snapshot.sequence < state.sequence;
  if (isOlder) return { state, outcome: 'repeated' };
  const { nowAt: _, ...content } = snapshot;
  const closed = state?.ledgerId === snapshot.ledgerId ? (state.closed ?? []) : [];
  return {
    state: {
      ...content,
      ...withBatches({ batches: [], closed }, content.batches),
      alerts: content.alerts.filter(isAlertOpen),
    },
    outcome: 'applied',
  };
}

function applyChange(state: LiveState | null, change: ChangeWire): Applied {
  if (state === null) return { state, outcome: 'behind' };
  if (change.sequence <= state.sequence) return { state, outcome: 'repeated' };
  if (change.afterSequence !== state.sequence) return { state, outcome: 'behind' };
  return {
    state: {
      ...state,
      sequence: change.sequence,
      ...withBatches(state, change.batches),
      alerts: withAlerts(state.alerts, change.alerts),
    },
    outcome: 'applied',
  };
}

/** A closed batch stays within reach for a while: it may be taken back, and the next layer comes on it. */
function withBatches(
  held: Pick<LiveState, 'batches' | 'closed'>,
  changed: readonly BatchWire[],
): { batches: BatchWire[]; closed: BatchWire[] } {
  const byId = new Map([...(held.closed ?? []), ...held.batches].map((batch) => [batch.id, batch]));
  for (const batch of changed) byId.set(batch.id, batch);
  const all = [...byId.values()];
  const closed = all
    .filter((batch) => !isOpen(batch))
    .sort((a, b) => (a.closedAt ?? '').localeCompare(b.closedAt ?? ''));
  return { batches: all.filter(isOpen), closed: closed.slice(-CLOSED_COUNT_MAX) };
}

function withAlerts(held: readonly AlertWire[], changed: readonly AlertWire[]): AlertWire[] {
  const byId = new Map(held.map((alert) => [alert.id, alert]));
  for (const alert of changed) byId.set(alert.id, alert);
  return [...byId.values()].filter(isAlertOpen);
}

function isAlertOpen(alert: AlertWire): boolean {
  return alert.withdrawnAt === null && alert.acknowledgedAt === null;
}

function applyAir(state: LiveState | null, air: AirMessage): Applied {
  const bay = state?.bays.find(({ id }) => id === air.bayId);
  if (state === null || bay === undefined) return { state, outcome: 'ignored' };
  if (bay.at !== null && Date.parse(air.at) <= Date.parse(bay.at)) return { state, outcome: 'repeated' };
  const bays = state.bays.map((other) => (other === bay ? withAir(bay, air) : other));
  return { state: { ...state, bays }, outcome: 'applied' };
}

function withAir(bay: BayWire, air: AirMessage): BayWire {
  const hasTemperature = air.airTemperatureC !== null;
  return {
    ...bay,
    airTemperatureC: air.airTemperatureC ?? bay.airTemperatureC,
    relativeHumidityPct: air.relativeHumidityPct ?? bay.relativeHumidityPct,
    dewPointC: air.dewPointC ?? bay.dewPointC,
    at: hasTemperature ? air.at : bay.at,
    ageS: hasTemperature ? 0 : bay.ageS,
    trust: hasTemperature ? 'good' : bay.trust,
  };
}

/** Half an hour of a busy shop. */
const CLOSED_COUNT_MAX = 30;
