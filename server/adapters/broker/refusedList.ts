// Payloads that no parser could read: counted, the newest kept in short for Setup.
import { type Instant, isoFromInstant, type RefusedPayload } from '../../contract/index.ts';

export interface RefusedList {
  add(refused: { nowAt: Instant; topic: string; reason: string; payload: string | Buffer }): void;
  /** Newest first. */
  list(): readonly RefusedPayload[];
  count(): number;
}

const PAYLOADS_KEPT_COUNT = 50;
const EXCERPT_LENGTH = 120;

/** Makes an empty list; it is told again by sensors that go on sending, so it need not survive a restart. */
export function makeRefusedList(): RefusedList {
  const kept: RefusedPayload[] = [];
  let count = 0;
  return {
    add({ nowAt, topic, reason, payload }) {
      count += 1;
      kept.unshift({ at: isoFromInstant(nowAt), topic, reason, excerpt: excerptOf(payload) });
      kept.length = Math.min(kept.length, PAYLOADS_KEPT_COUNT);
    },
    list: () => kept,
    count: () => count,
  };
}

function excerptOf(payload: string | Buffer): string {
  return payload
    .toString()
    .slice(0, EXCERPT_LENGTH)
    .replaceAll(/[^\x20-\x7e\u00a0-\uffff]/g, '·');
}
