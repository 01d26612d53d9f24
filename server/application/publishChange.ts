// Tells every screen what an append changed: the batch with its alerts, at one sequence, in order.
import type { BatchState } from '../domain/batch.ts';
import type { Sequence } from '../domain/facts.ts';
import { type AlertView, presentAlert, presentBatch, viewOfBatchAlert } from './present.ts';
import type { Shop } from './shop.ts';

/** Publishes the state after an append; closed batches and alerts go too, so that screens see them go. */
export function publishChange(
  shop: Shop,
  { afterSequence, sequence, state }: { afterSequence: Sequence; sequence: Sequence; state: BatchState },
): void {
  shop.live.publishChange({
    sequence,
    afterSequence,
    batches: [presentBatch(state, shop.clock.nowAt())],
    alerts: state.alerts.map((alert) => presentAlert(viewOfBatchAlert(state, alert))),
  });
}

/** Publishes alerts that changed without their batches; also when there are none, since the sequence has moved on. */
export function publishAlerts(
  shop: Shop,
  {
    afterSequence,
    sequence,
    alerts,
  }: { afterSequence: Sequence; sequence: Sequence; alerts: readonly AlertView[] },
): void {
  shop.live.publishChange({
    sequence,
    afterSequence,
    batches: [],
    alerts: alerts.map((alert) => presentAlert(alert)),
  });
}
