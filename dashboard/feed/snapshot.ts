// Reads the snapshot: everything a screen shows at one sequence, and the server's clock with it.
import { batch } from '@preact/signals';
import type { SnapshotWire } from '../../server/contract/index.ts';
import { applyLiveMessage, withTroubles } from '../state/applyLiveMessage.ts';
import { $live, $snapshotTrouble } from '../state/sources.ts';
import { anchorClock } from './clock.ts';
import { getJson } from './http.ts';

const TRY_AGAIN_EVERY_MS = 3000;
/** Asks that keep coming in rest for a while, and are not forgotten. */
const AGAIN_COUNT_MAX = 3;
const AGAIN_REST_MS = 1000;

let underWay: Promise<boolean> | null = null;
let isAskedAgain = false;
let heldSinceMs = performance.now();

/** How long ago the snapshot that this screen holds was asked for [ms]: whatever was told before that is in it. */
export function snapshotAgeMs(): number {
  return performance.now() - heldSinceMs;
}

/**
 * Reads and applies the snapshot. An ask that comes while one is under way may know of something newer than its answer:
 * all such asks share one more read after it.
 */
export async function readSnapshot(): Promise<boolean> {
  if (underWay !== null) isAskedAgain = true;
  underWay ??= readUntilNewest().finally(() => {
    underWay = null;
  });
  return underWay;
}

/** Tries again while the server cannot answer: its word that it is well again may have been missed. */
export function startSnapshotRetry(): void {
  setInterval(() => {
    if ($snapshotTrouble.peek() !== null) void readSnapshot();
  }, TRY_AGAIN_EVERY_MS);
}

async function readUntilNewest(): Promise<boolean> {
  let isRead = await readOnce();
  for (let again = 0; isAskedAgain && again < AGAIN_COUNT_MAX; again += 1) {
    isAskedAgain = false;
    isRead = await readOnce();
  }
  if (isAskedAgain) setTimeout(() => void readSnapshot(), AGAIN_REST_MS);
  isAskedAgain = false;
  return isRead;
}

async function readOnce(): Promise<boolean> {
  const askedAtMs = performance.now();
  const answer = await getJson('/snapshot');
  if (answer.kind !== 'answered' || !isSnapshot(answer.body)) {
    $snapshotTrouble.value = answer.kind === 'unanswered' ? answer.why : 'server';
    return false;
  }
  const snapshot = answer.body;
  heldSinceMs = askedAtMs;
  batch(() => {
    $snapshotTrouble.value = null;
    anchorClock({ serverAt: Date.parse(snapshot.nowAt), rate: snapshot.rate });
    $live.value = withTroubles(
      applyLiveMessage($live.peek(), { kind: 'snapshot', snapshot }).state,
      snapshot,
    );
  });
  return true;
}

function isSnapshot(value: unknown): value is SnapshotWire {
  const snapshot = value as Partial<SnapshotWire> | null;
  return typeof snapshot?.ledgerId === 'string' && Array.isArray(snapshot.batches);
}
