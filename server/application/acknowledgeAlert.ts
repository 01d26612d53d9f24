// "Seen": an alert of a batch is marked with the batch's own facts, an alert of the shop in its book.
import type { AlertWire } from '../contract/index.ts';
import type { FactDraft } from '../domain/facts.ts';
import { evolveBookViews, readBook } from './advanceAlerts.ts';
import { placeFacts } from './appendFacts.ts';
import { acknowledgeOwn } from './handleCommand.ts';
import type { Answer, Ask } from './ports/doors.ts';
import { type AlertView, presentAlert } from './present.ts';
import { publishAlerts } from './publishChange.ts';
import type { Shop } from './shop.ts';

/** The names of the shop's own alerts begin so; no batch has this name. */
const SHOP_PREFIX = 'shop.';

/** Marks an alert as seen by a person; a second time changes nothing. */
export async function acknowledgeAlert(
  shop: Shop,
  alertId: string,
  ask: Ask<{ readonly by?: string | undefined }>,
): Promise<Answer> {
  return alertId.startsWith(SHOP_PREFIX)
    ? shop.turns(() => acknowledgeShared(shop, alertId, ask))
    : acknowledgeOwn(shop, alertId, ask);
}

async function acknowledgeShared(
  shop: Shop,
  alertId: string,
  { key, body }: Ask<{ readonly by?: string | undefined }>,
): Promise<Answer> {
  const fingerprint = JSON.stringify(['ack', alertId, body]);
  const kept = await shop.ledger.readAnswer(key);
  if (kept !== null) {
    if (kept.fingerprint !== fingerprint) return { kind: 'key-reused' };
    return { kind: 'seen', alert: kept.body as AlertWire, isRepeat: true };
  }
  const held = (await shop.ledger.readView('alert', alertId)) as AlertView | null;
  if (held === null)
    return { kind: 'refused', refusal: { code: 'unknown-alert', sentence: 'There is no such alert.' } };
  const nowAt = shop.clock.nowAt();
  const draft: FactDraft = {
    type: 'AlertAcknowledged',
    version: 1,
    at: nowAt,
    by: body.by ?? null,
    batchId: null,
    bayId: null,
    body: { alertId },
  };
  const head = await shop.ledger.readHead();
  const book = await readBook(shop);
  // One that the book has forgotten was withdrawn long ago: nothing is left to mark.
  const isSeen = held.acknowledgedAt !== null || book.alerts.every(({ id }) => id !== alertId);
  const facts = isSeen ? [] : placeFacts(shop, [draft], head);
  const { views } = evolveBookViews(book, facts);
  const after = (views.find(({ kind }) => kind === 'alert')?.body ?? held) as AlertView;
  const alert = presentAlert(after);
  const answer = { key, fingerprint, at: nowAt, body: alert };
  const appended = await shop.ledger.append({ afterSequence: head, facts, views, answer });
  if (appended.kind === 'conflict')
    return {
      kind: 'refused',
      refusal: { code: 'version-stale', sentence: 'Others are changing this: try again.' },
    };
  if (facts.length > 0)
    publishAlerts(shop, { afterSequence: head, sequence: appended.sequence, alerts: [after] });
  return { kind: 'seen', alert, isRepeat: false };
}
