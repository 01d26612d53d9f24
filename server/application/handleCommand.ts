// The door for people: one command, one answer, kept by its key so that a repeated tap is answered and not done twice.
import type { BatchCommand, BatchWire, StartBatch } from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import { decideCommand, type Decision, refuse } from '../domain/decideCommand.ts';
import { decideStart } from '../domain/decideStart.ts';
import type { BatchId, FactDraft } from '../domain/facts.ts';
import { takeLesson } from '../domain/takeLesson.ts';
import { cardOf, DECIDE_TRIES_MAX, decideNow } from './advanceBatch.ts';
import { planWake } from './advanceTime.ts';
import { appendFacts, type BatchHistory, extendHistory, placeFacts, readHistory } from './appendFacts.ts';
import type { Answer, Ask } from './ports/doors.ts';
import { presentBatch } from './present.ts';
import { makeAirReader } from './readBayAir.ts';
import type { Shop } from './shop.ts';

/** Starts a batch and estimates it in the same entry, so that the answer has its times. */
export async function startBatch(shop: Shop, ask: Ask<StartBatch>): Promise<Answer> {
  return answerOnce(shop, { key: ask.key, fingerprint: JSON.stringify(['start', ask.body]) }, async () => ({
    history: { state: null, facts: [] },
    decision: decideStart(ask.body, {
      batchId: shop.makeId() as BatchId,
      card: shop.cards.get(ask.body.cardId) ?? null,
      bayIds: shop.facts.bays.map((bay) => bay.id),
      nowAt: shop.clock.nowAt(),
    }),
  }));
}

/** Does what a person asks of a batch, or says why not. */
export async function handleCommand(shop: Shop, batchId: string, ask: Ask<BatchCommand>): Promise<Answer> {
  return answerOnce(shop, { key: ask.key, fingerprint: JSON.stringify([batchId, ask.body]) }, async () => {
    const history = await readHistory(shop, batchId as BatchId);
    return { history, decision: decideOn(shop, history, ask.body) };
  });
}

/** Marks an alert of a batch as seen by a person. */
export async function acknowledgeOwn(
  shop: Shop,
  alertId: string,
  ask: Ask<{ readonly by?: string | undefined }>,
): Promise<Answer> {
  return answerOnce(
    shop,
    { key: ask.key, fingerprint: JSON.stringify(['ack', alertId, ask.body]) },
    async () => {
      const history = await readHistory(shop, alertId.slice(0, Math.max(0, alertId.indexOf('.'))) as BatchId);
      const alert = history.state?.alerts.find((one) => one.id === alertId);
      if (history.state === null || alert === undefined) {
        return { history, decision: refuse('unknown-alert', 'There is no such alert.') };
      }
      if (alert.acknowledgedAt !== null)
        return { history, decision: { kind: 'accepted' as const, facts: [] } };
      return {
        history,
        decision: {
          kind: 'accepted' as const,
          facts: [acknowledgedFact(shop, history.state, { alertId, by: ask.body.by })],
        },
      };
    },
  );
}

function acknowledgedFact(
  shop: Shop,
  state: BatchState,
  { alertId, by }: { alertId: string; by: string | undefined },
): FactDraft {
  return {
    type: 'AlertAcknowledged',
    version: 1,
    at: shop.clock.nowAt(),
    by: by ?? null,
    batchId: state.id,
    bayId: state.bayId,
    body: { alertId },
  };
}

function decideOn(shop: Shop, { state, facts }: BatchHistory, command: BatchCommand): Decision {
  if (state === null) return refuse('unknown-batch', 'There is no such batch.');
  return decideCommand(state, command, {
    card: cardOf(shop, state),
    nowAt: shop.clock.nowAt(),
    bayIds: shop.facts.bays.map((bay) => bay.id),
    lamps: shop.facts.lamps,
    facts,
  });
}

interface Considered {
  readonly history: BatchHistory;
  readonly decision: Decision;
}

async function answerOnce(
  shop: Shop,
  question: { key: string; fingerprint: string },
  consider: () => Promise<Considered>,
): Promise<Answer> {
  const answer = await shop.turns(async () => {
    const kept = await shop.ledger.readAnswer(question.key);
    if (kept !== null) {
      if (kept.fingerprint !== question.fingerprint) return { kind: 'key-reused' } as const;
      return { kind: 'done', batch: kept.body as BatchWire, isRepeat: true } as const;
    }
    for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
      const settled = await settle(shop, question, consider);
      if (settled !== 'conflict') return settled;
    }
    return {
      kind: 'refused',
      refusal: { code: 'version-stale', sentence: 'Others are changing this batch: try again.' },
    } as const;
  });
  if (answer.kind === 'done') await planWake(shop);
  return answer;
}

/** What a batch taught that this act has closed. */
async function lessonOf(shop: Shop, history: BatchHistory, acts: readonly FactDraft[]): Promise<FactDraft[]> {
  if (!acts.some(({ type }) => type === 'SandingStarted' || type === 'BatchScrapped')) return [];
  const state = history.state as BatchState;
  const bays = await makeAirReader(shop)(state);
  const lesson = takeLesson(state, { card: cardOf(shop, state), bays, facts: history.facts });
  if (lesson === null) return [];
  const { id: batchId, bayId } = state;
  return [
    { type: 'LessonTaken', version: 1, at: shop.clock.nowAt(), by: null, batchId, bayId, body: lesson },
  ];
}

/** Decides, lets the estimate follow from the new state, and appends both with the answer in one transaction. */
async function settle(
  shop: Shop,
  question: { key: string; fingerprint: string },
  consider: () => Promise<Considered>,
): Promise<Answer | 'conflict'> {
  const head = await shop.ledger.readHead();
  const { history, decision } = await consider();
  if (decision.kind === 'refused') return decision;
  const asked = placeFacts(shop, decision.facts, head);
  const afterAct = extendHistory(history, asked);
  const drafts = [
    ...(await decideNow(shop, afterAct.state as BatchState)),
    ...(await lessonOf(shop, afterAct, decision.facts)),
  ];
  const facts = placeFacts(shop, [...decision.facts, ...drafts], head);
  const state = extendHistory(history, facts).state as BatchState;
  const batch = presentBatch(state, shop.clock.nowAt());
  const answer = { ...question, at: shop.clock.nowAt(), body: batch };
  if ((await appendFacts(shop, { head, state, facts, answer })) === 'conflict') return 'conflict';
  return { kind: 'done', batch, isRepeat: false };
}
