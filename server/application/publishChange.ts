// Tells every screen what an append changed: the batch with its alerts, at one sequence, in order.
import type { BatchState } from '../domain/batch.ts';
import type { Sequence } from '../domain/facts.ts';
import { presentAlert, presentBatch } from './present.ts';
import type { Shop } from './shop.ts';

/** Publishes the state after an append; closed batches and alerts go too, so that screens see them go. */
export function publishChange(
  shop: Shop,
  { afterSequence, sequence, state }: { afterSequence: Sequence; sequence: Sequence; state: BatchState },
): void {
  const place = { batchId: state.id, bayId: state.bayId, panel: state.panel };
  shop.live.publishChange({
    sequence,
    afterSequence,
    batches: [presentBatch(state, shop.clock.nowAt())],
    alerts: state.alerts.map((alert) => presentAlert({ ...alert, ...place })),
  });
}
