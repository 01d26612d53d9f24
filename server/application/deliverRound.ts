// The steps of a look at what is owed, each in a turn: what came of earlier messages is stored; what may go out now is chosen
// and, where it may have come whatever is heard of it, noted before it goes.
import type { AlertWire, DeliveryTrouble } from '../contract/index.ts';
import { channelStateOf, type Delivery, isWaiting } from '../domain/deliverBook.ts';
import { isMeantFor, type Owed, owedTo } from '../domain/deliverOwed.ts';
import type { FactBodies, FactDraft, Sequence } from '../domain/facts.ts';
import { DECIDE_TRIES_MAX } from './advanceBatch.ts';
import { placeFacts } from './appendFacts.ts';
import type { OpenChannel } from './deliverChannels.ts';
import { readOpenDeliveries } from './deliverViews.ts';
import { PortFailure } from './ports/portFailure.ts';
import { type AlertView, presentAlert } from './present.ts';
import { publishAlerts } from './publishChange.ts';
import type { Shop } from './shop.ts';

/** What came of a message that is tried no more. */
export interface Settled {
  readonly owed: Owed;
  readonly triesCount: number;
  /** Null: delivered. */
  readonly trouble: DeliveryTrouble | null;
}

/** A message with the alert as it stands. */
export interface Ready {
  readonly owed: Owed;
  readonly alert: AlertWire;
}

export interface Round {
  readonly ready: readonly Ready[];
  /** All that is owed after the round, whatever goes out now. */
  readonly owed: readonly Owed[];
  readonly givenUpCount: number;
}

export interface RoundAsk {
  readonly channels: ReadonlyMap<string, OpenChannel>;
  /** Of all that is owed, what may go out now. */
  readonly choose: (owed: readonly Owed[]) => readonly Owed[];
}

/** Stores what came of messages; to be called in a turn. */
export async function appendSettled(shop: Shop, settled: readonly Settled[]): Promise<void> {
  await appendDeliveries(shop, settled.map(settledDraft(shop)));
}

/** Decides what goes out now, and notes what begins; to be called in a turn. */
export async function takeRound(shop: Shop, { channels, choose }: RoundAsk): Promise<Round> {
  const deliveries = await readOpenDeliveries(shop.ledger);
  const lost = deliveries.flatMap((delivery) => lostChannels(delivery, channels));
  const found: Ready[] = [];
  if (channels.size > 0)
    for (const delivery of deliveries) found.push(...(await owedOf(shop, delivery, channels)));
  const chosen = new Set(choose(found.map(({ owed }) => owed)));
  const ready = found.filter(({ owed }) => chosen.has(owed));
  const begun = ready.flatMap(({ owed }) =>
    owed.markBefore === null ? [] : [{ ...owed, mark: owed.markBefore }],
  );
  await appendDeliveries(shop, [...lost, ...begun].map(markDraft(shop)));
  const states = deliveries.flatMap((delivery) => Object.values(delivery.channels));
  return {
    ready,
    owed: found.map(({ owed }) => owed),
    givenUpCount: states.filter(({ givenUp }) => givenUp !== null).length,
  };
}

/** Appends marks that a person makes; to be called in a turn. */
export async function appendMark(
  shop: Shop,
  mark: FactBodies['DeliveryMarked'] & { readonly by: string | null },
): Promise<void> {
  const { by, ...body } = mark;
  await appendDeliveries(shop, [{ ...markDraft(shop)(body), by }]);
}

/** A channel that is no more waits for nothing. */
function lostChannels(
  delivery: Delivery,
  channels: ReadonlyMap<string, OpenChannel>,
): FactBodies['DeliveryMarked'][] {
  return Object.keys(delivery.channels).flatMap((channelId) => {
    const state = channelStateOf(delivery, channelId);
    return state !== null && isWaiting(state) && !channels.has(channelId)
      ? [{ alertId: delivery.alertId, channelId, mark: 'forgotten' as const }]
      : [];
  });
}

async function owedOf(
  shop: Shop,
  delivery: Delivery,
  channels: ReadonlyMap<string, OpenChannel>,
): Promise<Ready[]> {
  const view = (await shop.ledger.readView('alert', delivery.alertId)) as AlertView | null;
  if (view === null) return [];
  const alert = presentAlert(view);
  const nowAt = shop.clock.nowAt();
  return [...channels.values()].flatMap(({ channel }) => {
    const owed = owedTo(channel, delivery, { isMeant: isMeantFor(channel, alert), nowAt });
    return owed === null ? [] : [{ owed, alert }];
  });
}

/** Facts of the way out belong to no batch; screens are told that the sequence has moved on. */
async function appendDeliveries(shop: Shop, drafts: readonly FactDraft[]): Promise<void> {
  if (drafts.length === 0) return;
  for (let tryIndex = 0; tryIndex < DECIDE_TRIES_MAX; tryIndex += 1) {
    const head: Sequence = await shop.ledger.readHead();
    const facts = placeFacts(shop, drafts, head);
    const appended = await shop.ledger.append({ afterSequence: head, facts, views: [] });
    if (appended.kind === 'conflict') continue;
    publishAlerts(shop, { afterSequence: head, sequence: appended.sequence, alerts: [] });
    return;
  }
  throw new PortFailure('ledger', 'append', { isRetriable: true, cause: new Error('others keep writing') });
}

function settledDraft(shop: Shop): (settled: Settled) => FactDraft {
  return ({ owed, triesCount, trouble }) => {
    const { alertId, channelId, message, factSequence } = owed;
    const body = { alertId, channelId, message, factSequence, triesCount, trouble };
    return { type: 'AlertDelivered', ...placeNow(shop), body };
  };
}

function markDraft(shop: Shop): (mark: FactBodies['DeliveryMarked']) => FactDraft {
  return ({ alertId, channelId, mark }) => ({
    type: 'DeliveryMarked',
    ...placeNow(shop),
    body: { alertId, channelId, mark },
  });
}

function placeNow({ clock }: Shop): Pick<FactDraft, 'version' | 'at' | 'by' | 'batchId' | 'bayId'> {
  return { version: 1, at: clock.nowAt(), by: null, batchId: null, bayId: null };
}
