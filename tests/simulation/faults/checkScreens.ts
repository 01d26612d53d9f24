// What must hold when faults have stopped: every screen shows what a fresh snapshot says, and what is due has been said.
import { applyLiveMessage } from '../../../dashboard/state/applyLiveMessage.ts';
import type { LiveState } from '../../../dashboard/state/liveState.ts';
import type { BatchWire, SnapshotWire } from '../../../server/contract/index.ts';

/** What is wrong between a screen and a fresh snapshot. What only counts on with time is left out: see `timeless`. */
export function checkScreen(name: string, state: LiveState | null, snapshot: SnapshotWire): string[] {
  const fresh = applyLiveMessage(null, { kind: 'snapshot', snapshot }).state;
  if (state === null || fresh === null) return [`screen ${name} shows nothing`];
  const [shown, wanted] = [timeless(state), timeless(fresh)];
  return Object.keys(wanted).flatMap((part) => {
    const [one, other] = [JSON.stringify(shown[part]), JSON.stringify(wanted[part])];
    return one === other ? [] : [`screen ${name}: ${part} is ${one} and not ${other}`];
  });
}

/**
 * A state without what the page itself counts on between messages: a probability that grows by the minute, the age and
 * staleness of air. Lists in order of their names: a page keeps them as they came. What was closed is the device's own.
 */
function timeless(state: LiveState): Record<string, unknown> {
  const { batches, alerts, bays, closed: _closed, ...rest } = state;
  return {
    ...rest,
    batches: batches.toSorted(byId).map(({ estimate, ...batch }) => ({
      ...batch,
      estimate: estimate === null ? null : { ...estimate, probabilityNow: null },
    })),
    alerts: alerts.toSorted(byId),
    bays: bays.map((bay) => ({ ...bay, ageS: null, trust: null })),
  };
}

function byId(a: { readonly id: string }, b: { readonly id: string }): number {
  return a.id < b.id ? -1 : 1;
}

/** A minute for the look that raises, and some for news on its way. */
const GRACE_MS = 75_000;
const SPREAD_BY_MS = 90_000;

/** "Never the same alert twice in a minute" (PRODUCT §4): a call that was taken back waits for that. */
const AGAIN_MS = 60_000;

/** When each alert was raised last about a batch, by kind and batch. */
export interface Said {
  /** Those that stand. */
  readonly said: ReadonlyMap<string, number>;
  /** Those that were withdrawn too. */
  readonly raised: ReadonlyMap<string, number>;
}

/** What is due by what the snapshot shows and was not said, by PRODUCT §4 and without the rules that say it. */
export function checkDue(
  { batches, nowAt }: SnapshotWire,
  { said, raised, waitingMin }: Said & { waitingMin: number },
): string[] {
  const now = Date.parse(nowAt);
  return batches.flatMap((batch) => {
    const missing = (kind: string, sinceAt: number): string[] => {
      const lastAt = said.get(`${kind} ${batch.id}`);
      const againAt = (raised.get(`${kind} ${batch.id}`) ?? Number.NEGATIVE_INFINITY) + AGAIN_MS;
      const isDue = now > Math.max(sinceAt, againAt) + GRACE_MS;
      return isDue && lastAt === undefined
        ? [`${kind} of batch ${batch.id} (${batch.stage}) was due and not said`]
        : [];
    };
    return [
      ...dueCalls(batch, missing),
      ...(batch.stage === 'test' ? waiting(batch, { said, waitingMin, now }) : []),
    ];
  });
}

function dueCalls(batch: BatchWire, missing: (kind: string, sinceAt: number) => string[]): string[] {
  const { stage, estimate, spreadAt, checks, mixedAt } = batch;
  if (estimate === null) return [];
  const testFromAt = Date.parse(estimate.testFromAt ?? '');
  const kickedAt = Date.parse(estimate.kickedAt ?? '');
  if (stage === 'wet' && spreadAt === null && Number.isFinite(kickedAt))
    return missing('spreadBy', Math.max(kickedAt - SPREAD_BY_MS, Date.parse(mixedAt)));
  const isCuring = stage === 'kicked' || stage === 'test' || stage === 'wet';
  const since = Math.max(testFromAt, Date.parse(checks.at(-1)?.at ?? mixedAt));
  return isCuring && Number.isFinite(testFromAt) ? missing('test', since) : [];
}

function waiting(
  { id }: BatchWire,
  { said, waitingMin, now }: { said: ReadonlyMap<string, number>; waitingMin: number; now: number },
): string[] {
  const calledAt = said.get(`test ${id}`);
  if (calledAt === undefined || now < calledAt + waitingMin * 60_000 + GRACE_MS) return [];
  const waitingAt = said.get(`waiting ${id}`);
  return waitingAt === undefined ? [`waiting of batch ${id} was due and not said`] : [];
}
