// The tone of a slip: green go and test, amber soon or abnormal, red stop, the film's own putty while it cures, grey else.
import type { BatchWire } from '../../../server/contract/index.ts';
import { epochAt, isSoon, phaseOf, SPREAD_SOON_S } from '../../format/phase.ts';

export type Tone = 'go' | 'soon' | 'stop' | 'film' | 'idle';

/** Which colour a slip's face takes. */
export function toneOf(batch: BatchWire, nowAt: number): Tone {
  const phase = phaseOf(batch, nowAt);
  switch (phase.kind) {
    case 'testNow':
    case 'testDue':
      return 'go';
    case 'spreadOver':
      return 'stop';
    case 'spreadWithin':
      return phase.remainingS <= SPREAD_SOON_S ? 'soon' : 'film';
    case 'testIn':
      return isSoon(batch, nowAt) ? 'soon' : 'film';
    case 'sanding':
    case 'closed':
    case 'noTime':
      return 'idle';
  }
}

/** How far the film is on its way to its likely test, 0…1: the face lightens with it. */
export function curedFraction(batch: BatchWire, nowAt: number): number {
  const p50At = epochAt(batch.estimate?.test.p50At);
  const mixedAt = Date.parse(batch.mixedAt);
  if (p50At === null || p50At <= mixedAt) return 0;
  return Math.min(1, Math.max(0, (nowAt - mixedAt) / (p50At - mixedAt)));
}
