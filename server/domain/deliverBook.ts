// What each channel outside the pages has been told of an alert: a fold of facts. Nothing is computed here; what is owed
// follows from it (deliverOwed.ts).
import type { AlertKind, DeliveryMessage, DeliveryTrouble, Instant } from '../contract/index.ts';
import type { Fact, FactBodies, FactOf, Sequence } from './facts.ts';

/** A message that was tried in vain and is tried no more. */
export interface GivenUp {
  readonly message: DeliveryMessage;
  readonly factSequence: Sequence;
  readonly at: Instant;
  readonly triesCount: number;
  readonly trouble: DeliveryTrouble;
}

export interface ChannelState {
  /**
   * maybe: a message that raises it was begun and nobody knows whether it came; standing: it knows of the alert; ending: it
   * is to hear that the alert is no more for it, and may have; ended: it has; dropped: nobody waits for it any more.
   */
  readonly knows: 'maybe' | 'standing' | 'ending' | 'ended' | 'dropped';
  /** The newest fact of the alert that it was told of; 0 for none. */
  readonly toldSequence: Sequence;
  /** The newest fact of the alert when it was begun to be raised: whatever came later is told as a change. */
  readonly begunSequence: Sequence;
  /** How often it was raised anew after an end. */
  readonly roundIndex: number;
  readonly givenUp: GivenUp | null;
}

/** One alert as the outbox sees it. */
export interface Delivery {
  readonly alertId: string;
  readonly kind: AlertKind;
  readonly raisedAt: Instant;
  /** The newest fact that changed what there is to tell, and when that was. */
  readonly contentSequence: Sequence;
  readonly changedAt: Instant;
  readonly isSeen: boolean;
  readonly isOver: boolean;
  /** By the channel's id; a channel that was never begun with is missing. */
  readonly channels: Readonly<Record<string, ChannelState>>;
}

type DeliveryFact = FactOf<(typeof DELIVERY_FACTS)[number]>;

/** Whether a fact changes what there is to tell, or what was told. */
export function isOfDelivery(fact: Fact): fact is DeliveryFact {
  return (DELIVERY_FACTS as readonly string[]).includes(fact.type);
}

/** A delivery after one more fact of its alert; null for an alert that was raised before there were deliveries. */
export function evolveDelivery(held: Delivery | null, fact: DeliveryFact): Delivery | null {
  if (fact.type === 'AlertRaised') return raise(fact);
  if (held === null) return null;
  switch (fact.type) {
    case 'AlertSubjectsChanged':
      return change(held, fact, {});
    case 'AlertAcknowledged':
      return change(held, fact, { isSeen: true });
    case 'AlertWithdrawn':
      return change(held, fact, { isOver: true });
    case 'DeliveryMarked':
      return mark(held, fact.body);
    case 'AlertDelivered':
      return settle(held, fact);
  }
}

/** Whether anybody may still have to be told: else it is closed for good. */
export function isDeliveryOpen({ isOver, channels }: Delivery): boolean {
  return !isOver || Object.values(channels).some(isWaiting);
}

/** Whether a channel may still have to be told how the alert ends. */
export function isWaiting({ knows }: ChannelState): boolean {
  return knows === 'maybe' || knows === 'standing' || knows === 'ending';
}

/** The state of one channel; null when nothing was begun with it. */
export function channelStateOf({ channels }: Delivery, channelId: string): ChannelState | null {
  return Object.hasOwn(channels, channelId) ? (channels[channelId] as ChannelState) : null;
}

function raise({ sequence, at, body }: FactOf<'AlertRaised'>): Delivery {
  return {
    alertId: body.alertId,
    kind: body.kind,
    raisedAt: at,
    contentSequence: sequence,
    changedAt: at,
    isSeen: false,
    isOver: false,
    channels: {},
  };
}

function change(
  held: Delivery,
  { sequence, at }: Pick<Fact, 'sequence' | 'at'>,
  marks: Partial<Pick<Delivery, 'isSeen' | 'isOver'>>,
): Delivery {
  return { ...held, ...marks, contentSequence: sequence, changedAt: at };
}

function mark(held: Delivery, { channelId, mark: made }: FactBodies['DeliveryMarked']): Delivery {
  const state = channelStateOf(held, channelId) ?? UNTOLD;
  switch (made) {
    case 'begun':
      return withChannel(held, channelId, {
        ...state,
        knows: 'maybe',
        begunSequence: held.contentSequence,
        roundIndex: state.roundIndex + (state.knows === 'ending' || state.knows === 'ended' ? 1 : 0),
        givenUp: null,
      });
    case 'ending':
      return withChannel(held, channelId, { ...state, knows: 'ending', givenUp: null });
    case 'again':
      return withChannel(held, channelId, { ...state, givenUp: null });
    case 'forgotten':
      return withChannel(held, channelId, { ...state, knows: 'dropped', givenUp: null });
  }
}

function settle(held: Delivery, { at, body }: FactOf<'AlertDelivered'>): Delivery {
  const { channelId, message, factSequence, triesCount, trouble } = body;
  const state = channelStateOf(held, channelId) ?? UNTOLD;
  if (trouble !== null) {
    return withChannel(held, channelId, {
      ...state,
      givenUp: { message, factSequence, at, triesCount, trouble },
    });
  }
  const knows = message === 'withdrawn' ? 'ended' : 'standing';
  return withChannel(held, channelId, { ...state, knows, toldSequence: factSequence, givenUp: null });
}

function withChannel(held: Delivery, channelId: string, state: ChannelState): Delivery {
  return { ...held, channels: { ...held.channels, [channelId]: state } };
}

const UNTOLD: ChannelState = {
  knows: 'maybe',
  toldSequence: 0 as Sequence,
  begunSequence: 0 as Sequence,
  roundIndex: 0,
  givenUp: null,
};

const DELIVERY_FACTS = [
  'AlertRaised',
  'AlertSubjectsChanged',
  'AlertAcknowledged',
  'AlertWithdrawn',
  'AlertDelivered',
  'DeliveryMarked',
] as const;
