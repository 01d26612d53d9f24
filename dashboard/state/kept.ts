// What people entered and the server has not answered yet: kept with its key and time, sent in order, never doubled.
import type { BatchCommandWire, BatchWire, StartBatchWire } from '../../server/contract/index.ts';

/** How long a tap is kept before it is too old to be sent [min]. */
export const KEPT_MAX_MIN = 30;
const KEPT_COUNT_MAX = 200;
const MS_PER_MIN = 60_000;

export type KeptBody =
  | {
      readonly kind: 'command';
      readonly batchId: string;
      readonly command: BatchCommandWire;
      /** The newest act that whoever tapped had seen: a later one is somebody else's. */
      readonly seenSequence?: number;
    }
  | { readonly kind: 'start'; readonly start: StartBatchWire }
  | { readonly kind: 'acknowledgement'; readonly alertId: string };

export interface Kept {
  /** The Idempotency-Key: the same for every try. */
  readonly key: string;
  readonly body: KeptBody;
  readonly panel: string;
  /** The shop's time of the tap, epoch ms. */
  readonly tappedAt: number;
  /** This device's wall clock at the tap, epoch ms. */
  readonly keptAt: number;
}

/** The queue with one more entry at its end; a doubled key is not added again. */
export function withKept(queue: readonly Kept[], entry: Kept): Kept[] {
  return queue.some(({ key }) => key === entry.key) ? [...queue] : [...queue, entry].slice(-KEPT_COUNT_MAX);
}

/** The queue without an entry that was answered. */
export function withoutKept(queue: readonly Kept[], key: string): Kept[] {
  return queue.filter((entry) => entry.key !== key);
}

/** Parts the queue into what may still be sent and what has become too old. */
export function partByAge(queue: readonly Kept[], wallAt: number): { fresh: Kept[]; tooOld: Kept[] } {
  const isFresh = ({ keptAt }: Kept): boolean => wallAt - keptAt <= KEPT_MAX_MIN * MS_PER_MIN;
  return { fresh: queue.filter(isFresh), tooOld: queue.filter((entry) => !isFresh(entry)) };
}

/** Reads a queue from a stored text; anything that is not one gives an empty queue. */
export function parseQueue(text: string | null): Kept[] {
  if (text === null) return [];
  try {
    const value: unknown = JSON.parse(text);
    return Array.isArray(value) ? value.filter(isKept) : [];
  } catch {
    return [];
  }
}

/** Starts that no batch has come of yet; the live feed may bring the batch before its start is answered. */
export function startsWithoutBatch(queue: readonly Kept[], batches: readonly BatchWire[]): Kept[] {
  return queue.filter(({ body }) => {
    if (body.kind !== 'start') return false;
    const { panel, mixedAt } = body.start;
    const isHere = ({ panel: itsPanel, mixedAt: itsMixedAt }: BatchWire): boolean =>
      itsPanel === panel && mixedAt !== undefined && Date.parse(itsMixedAt) === Date.parse(mixedAt);
    return !batches.some(isHere);
  });
}

/** A batch as it will be once the entries kept for it are stored. */
export function expectBatch(batch: BatchWire, queue: readonly Kept[]): BatchWire {
  return queue.reduce((expected, { body, tappedAt }) => {
    if (body.kind !== 'command' || body.batchId !== batch.id) return expected;
    return afterCommand(expected, body.command, new Date(tappedAt).toISOString());
  }, batch);
}

function afterCommand(batch: BatchWire, command: BatchCommandWire, tappedText: string): BatchWire {
  const at = command.at ?? tappedText;
  switch (command.type) {
    case 'markSpread':
      return { ...batch, spreadAt: at };
    case 'recordCheck':
      return command.outcome === 'powders'
        ? { ...batch, stage: 'sanding', sandingAt: at }
        : // The old window is wrong now, and the new one is the server's to compute.
          { ...batch, stage: 'kicked', estimate: null };
    case 'finishSanding':
      return { ...batch, stage: 'sanded', closedAt: at };
    case 'scrap':
      return { ...batch, stage: 'scrapped', closedAt: at };
    case 'moveToBay':
      return { ...batch, bayId: command.bayId };
    case 'switchLamp':
    case 'undo':
      return batch;
  }
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  const entry = value as Partial<Kept>;
  return (
    typeof entry.key === 'string' &&
    typeof entry.tappedAt === 'number' &&
    typeof entry.keptAt === 'number' &&
    typeof entry.panel === 'string' &&
    typeof entry.body === 'object' &&
    entry.body !== null
  );
}
