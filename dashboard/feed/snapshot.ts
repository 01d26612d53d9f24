// Reads the snapshot: everything a screen shows at one sequence, and the server's clock with it.
import { batch } from '@preact/signals';
import type { SnapshotWire } from '../../server/contract/index.ts';
import { applyLiveMessage } from '../state/applyLiveMessage.ts';
import { $isUnreachable, $live } from '../state/sources.ts';
import { anchorClock } from './clock.ts';
import { getJson } from './http.ts';

let underWay: Promise<boolean> | null = null;

/** Reads and applies the snapshot; asks that come while one is under way share its answer. */
export async function readSnapshot(): Promise<boolean> {
  underWay ??= readOnce().finally(() => {
    underWay = null;
  });
  return underWay;
}

async function readOnce(): Promise<boolean> {
  const answer = await getJson('/snapshot');
  if (answer.kind !== 'answered' || !isSnapshot(answer.body)) {
    $isUnreachable.value = true;
    return false;
  }
  const snapshot = answer.body;
  batch(() => {
    $isUnreachable.value = false;
    anchorClock({ serverAt: Date.parse(snapshot.nowAt), rate: snapshot.rate });
    $live.value = applyLiveMessage($live.peek(), { kind: 'snapshot', snapshot }).state;
  });
  return true;
}

function isSnapshot(value: unknown): value is SnapshotWire {
  const snapshot = value as Partial<SnapshotWire> | null;
  return typeof snapshot?.ledgerId === 'string' && Array.isArray(snapshot.batches);
}
