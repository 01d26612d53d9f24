// What a channel is owed: the one message that brings what it knows of an alert in line with how the alert stands. Whatever
// was missed, withdrawn or sent in vain in between, this rule leads to the same end.
import type { AlertKind, AlertPlace, DeliveryMessage, Instant } from '../contract/index.ts';
import { channelStateOf, type ChannelState, type Delivery } from './deliverBook.ts';
import type { Sequence } from './facts.ts';

/** A way out of the pages: a program elsewhere that takes all of some kinds, or a device that takes what its screens would. */
export type Channel = {
  readonly id: string;
  /** What was raised before it was there is not for it. */
  readonly sinceAt: Instant;
} & (
  | {
      readonly kind: 'webhook';
      readonly name: string;
      /** Null: every kind. */ readonly events: readonly AlertKind[] | null;
    }
  | { readonly kind: 'push'; readonly person: string | null; readonly screens: readonly AlertPlace[] }
);

/** Whom an alert is for. */
export interface Audience {
  readonly kind: AlertKind;
  readonly to: readonly AlertPlace[];
  /** Empty: everybody's. */
  readonly people: readonly string[];
}

export interface Owed {
  readonly alertId: string;
  readonly channelId: string;
  readonly message: DeliveryMessage;
  /** The newest fact of the alert that the message tells. */
  readonly factSequence: Sequence;
  /** Since when it is owed, or later where the alert changed since. */
  readonly dueAt: Instant;
  /** How often the channel was told of an end before. */
  readonly roundIndex: number;
  /** What must be stored before the message goes out: from then on it may have come, whatever is heard of it. */
  readonly markBefore: 'begun' | 'ending' | null;
}

/** Whether a channel would want an alert; devices go by the rule of the screens (dashboard, alertsFor). */
export function isMeantFor(channel: Channel, { kind, to, people }: Audience): boolean {
  if (channel.kind === 'webhook') return channel.events === null || channel.events.includes(kind);
  const { person, screens } = channel;
  const isOwn = person === null || people.length === 0 || people.includes(person);
  if (screens.includes('bench') && to.includes('bench') && isOwn) return true;
  if (screens.some((screen) => screen !== 'bench' && to.includes(screen))) return true;
  return CALLS.includes(kind) && person !== null && people.includes(person);
}

/** What is owed to a channel now; null when it knows how things are, or can be told no more. */
export function owedTo(
  channel: Channel,
  delivery: Delivery,
  { isMeant, nowAt }: { readonly isMeant: boolean; readonly nowAt: Instant },
): Owed | null {
  const state = channelStateOf(delivery, channel.id);
  const isStanding = isStandingFor(channel, delivery);
  const message = messageFor(state, {
    delivery,
    isWanted: isMeant && isStanding,
    // One that came while the clock was ahead has come by now.
    isNews: delivery.raisedAt >= channel.sinceAt || channel.sinceAt > nowAt,
  });
  if (message === null || isGivenUp(state, message, delivery)) return null;
  const { alertId, contentSequence, changedAt } = delivery;
  return {
    alertId,
    channelId: channel.id,
    message,
    // A receiver drops what it has had before: of a message that is tried again only what stood in its first try counts.
    factSequence: message === 'raised' && state?.knows === 'maybe' ? state.begunSequence : contentSequence,
    dueAt: changedAt,
    roundIndex: roundOf(state, message),
    markBefore: markBefore(state, { message, isStanding }),
  };
}

/** By what a receiver knows a message again: an alert comes and goes, may change in between, and may come back. */
export function messageIdOf({
  alertId,
  message,
  factSequence,
  roundIndex,
}: Pick<Owed, 'alertId' | 'message' | 'factSequence' | 'roundIndex'>): string {
  if (message === 'changed') return `${alertId}.${message}.${factSequence}`;
  return roundIndex === 0 ? `${alertId}.${message}` : `${alertId}.${message}.${roundIndex}`;
}

/**
 * How long to wait after a number of vain tries [ms]: twice as long each time, half of it by chance (0 … 1), so that what
 * failed together does not come back together.
 */
export function retryDelayMs({
  triesCount,
  chanceShare,
}: {
  readonly triesCount: number;
  readonly chanceShare: number;
}): number {
  const wholeMs = Math.min(RETRY_MAX_MS, RETRY_FIRST_MS * 2 ** (triesCount - 1));
  return Math.round((wholeMs / 2) * (1 + chanceShare));
}

/** What somebody has seen calls no device any more; a program hears that it was seen. */
function isStandingFor(channel: Channel, { isOver, isSeen }: Delivery): boolean {
  return !isOver && !(channel.kind === 'push' && isSeen);
}

function roundOf(state: ChannelState | null, message: DeliveryMessage): number {
  if (state === null) return 0;
  const isAnew = message === 'raised' && hasHeardOfEnd(state);
  return state.roundIndex + (isAnew ? 1 : 0);
}

/** An end that is one for good needs no mark: nothing can be owed after it that would have to know whether it came. */
function markBefore(
  state: ChannelState | null,
  { message, isStanding }: { readonly message: DeliveryMessage; readonly isStanding: boolean },
): Owed['markBefore'] {
  if (message === 'raised') return state === null || hasHeardOfEnd(state) ? 'begun' : null;
  return message === 'withdrawn' && isStanding && state?.knows !== 'ending' ? 'ending' : null;
}

function hasHeardOfEnd({ knows }: ChannelState): boolean {
  return knows === 'ending' || knows === 'ended';
}

function messageFor(
  state: ChannelState | null,
  {
    delivery,
    isWanted,
    isNews,
  }: { readonly delivery: Delivery; readonly isWanted: boolean; readonly isNews: boolean },
): DeliveryMessage | null {
  if (state === null) return isWanted && isNews ? 'raised' : null;
  switch (state.knows) {
    case 'maybe':
    case 'ending':
      return isWanted ? 'raised' : 'withdrawn';
    case 'standing':
      if (!isWanted) return 'withdrawn';
      return state.toldSequence < delivery.contentSequence ? 'changed' : null;
    case 'ended':
      return isWanted ? 'raised' : null;
    case 'dropped':
      return null;
  }
}

/** A change that came after the one that was given up is another message. */
function isGivenUp(
  state: ChannelState | null,
  message: DeliveryMessage,
  { contentSequence }: Delivery,
): boolean {
  const givenUp = state?.givenUp ?? null;
  if (givenUp === null || givenUp.message !== message) return false;
  return message !== 'changed' || givenUp.factSequence === contentSequence;
}

/** After this many vain tries a message is given up: some 40 minutes. */
export const TRIES_MAX = 12;
const RETRY_FIRST_MS = 2000;
const RETRY_MAX_MS = 10 * 60_000;

/** What follows the one person of a device onto every screen. */
const CALLS: readonly AlertKind[] = ['spreadBy', 'test'];
