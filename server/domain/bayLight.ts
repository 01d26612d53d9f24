// The one colour that a stack light shows for a bay: the most urgent of all that is open there.
import type { AlertKind, BayLight } from '../contract/index.ts';
import type { ShopAlert } from './alertBook.ts';
import type { BatchState } from './batch.ts';

export interface LightGround {
  /** Open ones. */
  readonly batches: readonly Pick<BatchState, 'id' | 'bayId' | 'stage' | 'alerts'>[];
  /** Alerts of the shop. */
  readonly lines: readonly Pick<ShopAlert, 'kind' | 'subjects' | 'withdrawnAt'>[];
}

/**
 * stop: something spoils in the bay, seen or not; test: a batch is worth testing; wait: a batch cures; off: nothing does.
 * A batch that is being sanded asks for nothing, and one that was moved takes its trouble along.
 */
export function bayLight(bayId: string, { batches, lines }: LightGround): BayLight {
  const here = batches.filter((batch) => batch.bayId === bayId && batch.stage !== 'sanding');
  const isSpoiling = here.some(
    ({ id, alerts }) =>
      alerts.some(isStop) ||
      lines.some((line) => isStop(line) && line.subjects.some(({ batchId }) => batchId === id)),
  );
  if (isSpoiling) return 'stop';
  if (here.some(({ stage }) => stage === 'test')) return 'test';
  return here.length > 0 ? 'wait' : 'off';
}

function isStop({ kind, withdrawnAt }: Pick<ShopAlert, 'kind' | 'withdrawnAt'>): boolean {
  return withdrawnAt === null && STOPS.includes(kind);
}

/** A hold or a danger: going on would spoil the film. */
const STOPS: readonly AlertKind[] = ['condensation', 'tooCold', 'tooHot'];
