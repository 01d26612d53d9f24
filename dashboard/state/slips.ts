// The stack of slips: whose they are and which one comes first.
import type { AlertWire, BatchWire } from '../../server/contract/index.ts';
import { nextActAt } from '../format/phase.ts';

export interface Whose {
  readonly person: string | null;
  readonly isOnlyMine: boolean;
}

/** Whether a batch is shown to this person: their own and nobody's, or everyone's. */
export function isMine(batch: BatchWire, whose: Whose): boolean {
  return whose.person === null || !whose.isOnlyMine || batch.by === null || batch.by === whose.person;
}

/**
 * Batches by their next act. A mix that still has to be spread perishes, so it comes before tests that wait;
 * then those that cure, then those that are being sanded, last those without a time.
 */
export function orderSlips(batches: readonly BatchWire[]): BatchWire[] {
  return [...batches].sort(
    (a, b) => groupOf(a) - groupOf(b) || instantOf(a) - instantOf(b) || a.mixedAt.localeCompare(b.mixedAt),
  );
}

/** The alerts of the batches that are shown and have not gone on since: one a batch, the oldest first. */
export function alertsOf(alerts: readonly AlertWire[], batches: readonly BatchWire[]): AlertWire[] {
  const byId = new Map(batches.map((batch) => [batch.id, batch]));
  return alerts
    .filter((alert) => {
      const batch = byId.get(alert.batchId);
      return batch !== undefined && stillCalls(alert, batch);
    })
    .sort((a, b) => a.raisedAt.localeCompare(b.raisedAt))
    .filter(({ batchId }, index, all) => all.findIndex((other) => other.batchId === batchId) === index);
}

function stillCalls(alert: AlertWire, batch: BatchWire): boolean {
  return alert.kind === 'spreadBy' ? batch.spreadAt === null : batch.stage !== 'sanding';
}

function groupOf(batch: BatchWire): number {
  if (batch.stage === 'sanding') return 3;
  if (nextActAt(batch) === null) return batch.stage === 'test' ? 1 : 4;
  if (batch.stage === 'wet' && batch.spreadAt === null) return 0;
  return batch.stage === 'test' ? 1 : 2;
}

function instantOf(batch: BatchWire): number {
  return nextActAt(batch) ?? Date.parse(batch.mixedAt);
}
