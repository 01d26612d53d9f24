// What was finished a moment ago and is not done with: it can be taken back, and most of it gets another layer.
import type { BatchWire } from '../../server/contract/index.ts';
import type { Kept } from './kept.ts';

/** How long an act can be taken back, as the shop computer allows it [min]. */
const UNDO_MAX_MIN = 10;
/** By then the next layer is mixed, or none comes [min]. */
const REACH_MAX_MIN = 30;
const MS_PER_MIN = 60_000;

export interface ClosedChoice {
  /** Open and closed batches, as they will be once what was tapped is stored. */
  readonly batches: readonly BatchWire[];
  readonly queue: readonly Kept[];
  readonly nowAt: number;
}

/** Batches that were closed a moment ago, the newest first: sanded ones without a next layer, scrapped ones while that can be undone. */
export function justClosedOf({ batches, queue, nowAt }: ClosedChoice): BatchWire[] {
  const keptIds = new Set(queue.flatMap(({ body }) => (body.kind === 'command' ? [body.batchId] : [])));
  return batches
    .filter((batch) => {
      const { stage, closedAt } = batch;
      if (closedAt === null || nowAt - Date.parse(closedAt) > REACH_MAX_MIN * MS_PER_MIN) return false;
      if (keptIds.has(batch.id)) return true;
      return stage === 'sanded' ? !hasNextLayer(batch, batches, queue) : canReopen(batch, nowAt);
    })
    .sort((a, b) => (b.closedAt ?? '').localeCompare(a.closedAt ?? ''));
}

/** Whether the last act on a batch is young enough to be taken back. */
export function canUndo({ lastAct }: BatchWire, nowAt: number): boolean {
  return lastAct !== null && nowAt - Date.parse(lastAct.recordedAt) <= UNDO_MAX_MIN * MS_PER_MIN;
}

/** Whether a closed batch can be opened again: what closed it was its last act. */
export function canReopen(batch: BatchWire, nowAt: number): boolean {
  return isClosing(batch.lastAct?.type) && canUndo(batch, nowAt);
}

/** The newest layer on a panel that another one may come on: one being sanded, or sanded a moment ago. */
export function layerBelow(panel: string, batches: readonly BatchWire[]): BatchWire | null {
  const layers = batches.filter(
    (batch) => batch.panel === panel && (batch.stage === 'sanding' || batch.stage === 'sanded'),
  );
  return layers.sort((a, b) => b.mixedAt.localeCompare(a.mixedAt))[0] ?? null;
}

function isClosing(type: string | undefined): boolean {
  return type === 'BatchSanded' || type === 'BatchScrapped';
}

function hasNextLayer(below: BatchWire, batches: readonly BatchWire[], queue: readonly Kept[]): boolean {
  const isOn = (panel: string, repairOrder: string | null, mixedAt: string | undefined): boolean =>
    panel === below.panel &&
    repairOrder === below.repairOrder &&
    mixedAt !== undefined &&
    Date.parse(mixedAt) > Date.parse(below.mixedAt);
  return (
    batches.some(
      (batch) => batch.stage !== 'scrapped' && isOn(batch.panel, batch.repairOrder, batch.mixedAt),
    ) ||
    queue.some(
      ({ body }) =>
        body.kind === 'start' && isOn(body.start.panel, body.start.repairOrder ?? null, body.start.mixedAt),
    )
  );
}
