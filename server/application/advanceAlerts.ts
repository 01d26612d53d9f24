// Warnings of the whole shop brought up to now: sensors that fell silent or came back, and what lasts in many batches.
// Stored before it is told, in one entry, so that a storm is never seen as many lines.
import type { Instant } from '../contract/index.ts';
import { type AlertBook, EMPTY_BOOK, evolveBook, isOfBook } from '../domain/alertBook.ts';
import { type AlertDecision, decideAlerts } from '../domain/decideAlerts.ts';
import type { BatchState } from '../domain/batch.ts';
import { evolveBatch } from '../domain/evolveBatch.ts';
import type { Fact } from '../domain/facts.ts';
import { DECIDE_TRIES_MAX } from './advanceBatch.ts';
import { placeFacts, readOpenBatches, viewsOf } from './appendFacts.ts';
import type { ViewChange } from './ports/ledger.ts';
import { type AlertView, viewOfBatchAlert } from './present.ts';
import { publishAlerts } from './publishChange.ts';
import { readHeard } from './sensorsHeard.ts';
import type { Shop } from './shop.ts';

/** There is one book a shop. */
const BOOK_ID = 'shop';
/** What is decided may let more fall due in the same look; more rounds than this would be a defect. */
const ROUNDS_COUNT_MAX = 4;

/** Decides and appends what is due; answers when something may be due next, as far as time alone can tell. */
export async function advanceAlerts(shop: Shop, open: readonly BatchState[]): Promise<Instant | null> {
  let batches = open;
  for (let roundIndex = 0; roundIndex < ROUNDS_COUNT_MAX; roundIndex += 1) {
    const { facts, nextAt } = await decideNow(shop, batches);
    if (facts.length === 0) return nextAt;
    await shop.turns(() => appendDecided(shop));
    batches = await readOpenBatches(shop);
  }
  shop.log.warn('alerts.unsettled', { roundsCount: ROUNDS_COUNT_MAX });
  return null;
}

/** The views that facts about no batch stand behind, and the book after them. */
export function evolveBookViews(
  book: AlertBook,
  facts: readonly Fact[],
): { readonly book: AlertBook; readonly views: readonly ViewChange[] } {
  const own = facts.filter((fact) => isOfBook(fact));
  const changed = new Map<string, ViewChange>();
  let after = book;
  for (const fact of own) {
    after = evolveBook(after, fact);
    const alertId = 'alertId' in fact.body ? fact.body.alertId : null;
    const alert = after.alerts.find(({ id }) => id === alertId);
    if (alert !== undefined) changed.set(alert.id, alertView(alert));
  }
  const views = own.length === 0 ? [] : [bookView(after), ...changed.values()];
  return { book: after, views };
}

/** The shop's own alerts as they stand. */
export async function readBook({ ledger }: Pick<Shop, 'ledger'>): Promise<AlertBook> {
  return ((await ledger.readView('alertBook', BOOK_ID)) as AlertBook | null) ?? EMPTY_BOOK;
}

function bookView(book: AlertBook): ViewChange {
  return { kind: 'alertBook', id: BOOK_ID, isOpen: true, body: book };
}

function alertView(alert: AlertView): ViewChange {
  const isOpen = alert.withdrawnAt === null && alert.acknowledgedAt === null;
  return { kind: 'alert', id: alert.id, isOpen, body: alert };
}

async function decideNow(shop: Shop, batches: readonly BatchState[]): Promise<AlertDecision> {
  const sensors = await readHeard(shop);
  const book = await readBook(shop);
  const { clock, facts } = shop;
  return decideAlerts({ batches, book, sensors, nowAt: clock.nowAt(), settings: facts.alerts });
}

/** Decides again in a turn, since others may have written in between, and appends. */
async function appendDecided(shop: Shop): Promise<void> {
  for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
    const head = await shop.ledger.readHead();
    const batches = await readOpenBatches(shop);
    const { facts: drafts } = await decideNow(shop, batches);
    if (drafts.length === 0) return;
    const facts = placeFacts(shop, drafts, head);
    const { views } = evolveBookViews(await readBook(shop), facts);
    const states = batches
      .filter(({ id }) => facts.some(({ batchId }) => batchId === id))
      .map((state) => facts.filter(({ batchId }) => batchId === state.id).reduce(evolveBatch, state));
    const appended = await shop.ledger.append({
      afterSequence: head,
      facts,
      views: [...states.flatMap((state) => viewsOf(state)), ...views],
    });
    if (appended.kind === 'conflict') continue;
    const told = new Set(facts.flatMap(({ body }) => ('alertId' in body ? [body.alertId] : [])));
    const alerts = [
      ...states.flatMap((state) => state.alerts.map((alert) => viewOfBatchAlert(state, alert))),
      ...views.filter(({ kind }) => kind === 'alert').map(({ body }) => body as AlertView),
    ];
    publishAlerts(shop, {
      afterSequence: head,
      sequence: appended.sequence,
      alerts: alerts.filter(({ id }) => told.has(id)),
    });
    return;
  }
  shop.log.warn('alerts.conflict', { triesCount: DECIDE_TRIES_MAX });
}
