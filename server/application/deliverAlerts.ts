// The way out to programs and phones. What is owed follows from facts; here are only the tries: one message a channel under
// way, so that a slow receiver holds up nobody else, each tried again after longer and longer, and given up in the end.
import type { DeliveryTrouble, Instant } from '../contract/index.ts';
import { messageIdOf, type Owed, retryDelayMs, TRIES_MAX } from '../domain/deliverOwed.ts';
import { type OpenChannel, type OutboxPorts, readChannels } from './deliverChannels.ts';
import { appendMark, appendSettled, type Ready, type Settled, takeRound } from './deliverRound.ts';
import { readDelivery } from './deliverViews.ts';
import { channelStateOf } from '../domain/deliverBook.ts';
import type { Notifier, SendOutcome } from './ports/notifier.ts';
import { PortFailure } from './ports/portFailure.ts';
import type { Shop } from './shop.ts';

export interface SendingPorts extends OutboxPorts {
  readonly notifier: Notifier;
  /** A share from 0 to 1, another each time: what failed together shall not come back together. */
  readonly chance: () => number;
}

/** Which message of which channel a person means. */
export interface DeliveryName {
  readonly alertId: string;
  readonly channelId: string;
}

export interface Outbox {
  /** Looks at what is owed, now or right after the look that is under way. */
  look(): void;
  /** Tries anew what was given up, or lets it be; false where nothing was given up. */
  mark(
    name: DeliveryName,
    mark: { readonly mark: 'again' | 'forgotten'; readonly by: string | null },
  ): Promise<boolean>;
  /** Starts nothing more; what is under way is sent again after the next start. */
  stop(): void;
}

interface Tries {
  readonly count: number;
  /** Elapsed time before which it is not tried again. */
  readonly nextMs: number;
}

interface Memory {
  readonly tries: Map<string, Tries>;
  /** Channels with a message under way, or with one whose end is not stored yet. */
  readonly busy: Set<string>;
  settled: Settled[];
  isLooking: boolean;
  isAsked: boolean;
  isStopped: boolean;
  /** Whether the last look found no channel, and nothing that waits for one. */
  isNobodyTold: boolean;
  cancelTimer: () => void;
}

/** Opens the way out; nothing is sent before the first look. */
export function openOutbox(shop: Shop, ports: SendingPorts): Outbox {
  const memory: Memory = {
    tries: new Map(),
    busy: new Set(),
    settled: [],
    isLooking: false,
    isAsked: false,
    isStopped: false,
    isNobodyTold: false,
    cancelTimer: () => undefined,
  };
  const box: Box = { shop, ports, memory, look: () => void lookAll(box) };
  return {
    look: box.look,
    mark: (name, { mark, by }) => markByHand(box, name, { mark, by }),
    stop() {
      memory.isStopped = true;
      memory.cancelTimer();
      ports.notifier.close();
    },
  };
}

interface Box {
  readonly shop: Shop;
  readonly ports: SendingPorts;
  readonly memory: Memory;
  readonly look: () => void;
}

async function lookAll(box: Box): Promise<void> {
  const { memory } = box;
  memory.isAsked = true;
  if (memory.isLooking) return;
  memory.isLooking = true;
  while (memory.isAsked && !memory.isStopped) {
    memory.isAsked = false;
    await lookOnce(box);
  }
  memory.isLooking = false;
}

async function lookOnce(box: Box): Promise<void> {
  const { shop, ports, memory } = box;
  memory.cancelTimer();
  try {
    const channels = await readChannels(shop, ports);
    // The way of a shop that tells nobody: nothing is looked through for nobody.
    if (channels.size === 0 && memory.isNobodyTold && memory.settled.length === 0) return;
    memory.isNobodyTold = channels.size === 0;
    await storeSettled(box);
    const round = await shop.turns(() =>
      takeRound(shop, { channels, choose: (owed) => chooseNow(box, owed) }),
    );
    forgetStale(memory, round.owed);
    for (const ready of round.ready) void sendOne(box, { ready, channels });
    noteFigures(shop, round.owed, round.givenUpCount);
    planNext(box, round.owed);
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
    // The watch has told of it; what came back meanwhile is kept here until it can be stored.
    memory.cancelTimer = shop.clock.after(STORE_AGAIN_MS, box.look);
  }
}

/** Once it is stored what came of them, the next messages of these channels may go. */
async function storeSettled({ shop, memory }: Box): Promise<void> {
  // What comes back while these are being stored waits for the next time.
  const settled = [...memory.settled];
  await shop.turns(() => appendSettled(shop, settled));
  memory.settled = memory.settled.filter((one) => !settled.includes(one));
  for (const { owed } of settled) memory.busy.delete(owed.channelId);
}

/** The one message of each free channel that waited longest for its next try. */
function chooseNow({ shop, memory }: Box, owed: readonly Owed[]): Owed[] {
  const nowMs = shop.clock.elapsedMs();
  const chosen = new Map<string, Owed>();
  for (const one of owed) {
    if (memory.busy.has(one.channelId) || nextMsOf(memory, one) > nowMs) continue;
    const other = chosen.get(one.channelId);
    if (other === undefined || isBefore(memory, one, other)) chosen.set(one.channelId, one);
  }
  return [...chosen.values()];
}

function isBefore(memory: Memory, one: Owed, other: Owed): boolean {
  const waitMs = nextMsOf(memory, one) - nextMsOf(memory, other);
  return waitMs < 0 || (waitMs === 0 && one.factSequence < other.factSequence);
}

async function sendOne(
  box: Box,
  { ready, channels }: { ready: Ready; channels: ReadonlyMap<string, OpenChannel> },
): Promise<void> {
  const { shop, ports, memory } = box;
  const { owed, alert } = ready;
  memory.busy.add(owed.channelId);
  const outcome = await ports.notifier.send((channels.get(owed.channelId) as OpenChannel).target, {
    id: messageIdOf(owed),
    message: owed.message,
    alert,
    at: owed.dueAt,
    shopName: shop.facts.name,
  });
  if (memory.isStopped) return;
  await settle(box, owed, outcome);
  box.look();
}

async function settle(box: Box, owed: Owed, outcome: SendOutcome): Promise<void> {
  const { shop, ports, memory } = box;
  const key = keyOf(owed);
  const triesCount = (memory.tries.get(key)?.count ?? 0) + 1;
  const end = (trouble: DeliveryTrouble | null): void => {
    memory.tries.delete(key);
    memory.settled.push({ owed, triesCount, trouble });
  };
  if (outcome.kind === 'delivered') return end(null);
  const { trouble } = outcome;
  shop.log.info('message.failed', { ...owed, triesCount, code: trouble.code, status: trouble.status });
  if (outcome.kind === 'gone' && (await dropPhone(box, owed.channelId))) {
    memory.busy.delete(owed.channelId);
    return;
  }
  if (outcome.kind === 'gone' || triesCount >= TRIES_MAX) {
    shop.log.warn('message.given-up', { ...owed, triesCount, code: trouble.code, status: trouble.status });
    return end(trouble);
  }
  const waitMs = Math.max(
    retryDelayMs({ triesCount, chanceShare: ports.chance() }),
    Math.min(outcome.waitMs ?? 0, ASKED_WAIT_MAX_MS),
  );
  memory.tries.set(key, { count: triesCount, nextMs: shop.clock.elapsedMs() + waitMs });
  memory.busy.delete(owed.channelId);
}

/** A phone whose push service knows it no more is forgotten; a webhook stays until somebody takes it out. */
async function dropPhone({ ports, shop }: Box, channelId: string): Promise<boolean> {
  const id = channelId.startsWith(PHONE_PREFIX) ? channelId.slice(PHONE_PREFIX.length) : null;
  if (id === null) return false;
  try {
    await ports.store.removeSubscription(id);
    shop.log.info('phone.gone', { subscriptionId: id });
    return true;
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
    // This message is given up; the next one finds the phone gone again.
    return false;
  }
}

async function markByHand(
  { shop, memory, look }: Box,
  { alertId, channelId }: DeliveryName,
  { mark, by }: { mark: 'again' | 'forgotten'; by: string | null },
): Promise<boolean> {
  const isMarked = await shop.turns(async () => {
    const delivery = await readDelivery(shop.ledger, alertId);
    const givenUp = delivery === null ? null : (channelStateOf(delivery, channelId)?.givenUp ?? null);
    if (givenUp === null) return false;
    await appendMark(shop, { alertId, channelId, mark, by });
    return true;
  });
  for (const key of memory.tries.keys())
    if (key.startsWith(`${channelId} ${alertId} `)) memory.tries.delete(key);
  look();
  return isMarked;
}

/** What is owed no more is tried no more. */
function forgetStale({ tries }: Memory, owed: readonly Owed[]): void {
  const known = new Set(owed.map(keyOf));
  for (const key of tries.keys()) if (!known.has(key)) tries.delete(key);
}

function planNext({ shop, memory, look }: Box, owed: readonly Owed[]): void {
  const nowMs = shop.clock.elapsedMs();
  const waiting = owed.filter(({ channelId }) => !memory.busy.has(channelId));
  if (waiting.length === 0) return;
  const nextMs = Math.min(...waiting.map((one) => nextMsOf(memory, one)));
  memory.cancelTimer = shop.clock.after(Math.max(0, nextMs - nowMs), look);
}

/** Tells health how much waits; too long is a trouble that screens hear of once each way. */
function noteFigures(shop: Shop, owed: readonly Owed[], givenUpCount: number): void {
  const oldestAt = owed.length === 0 ? null : (Math.min(...owed.map(({ dueAt }) => dueAt)) as Instant);
  const { clock, troubles, live, log } = shop;
  shop.outbox = { owedCount: owed.length, oldestAt, givenUpCount };
  const oldestMin = oldestAt === null ? 0 : (clock.nowAt() - oldestAt) / clock.rate / MS_PER_MIN;
  const isLate = oldestMin > OWED_MAX_MIN;
  if (isLate === troubles.has('outbox')) return;
  if (isLate) {
    troubles.set('outbox', { code: 'late', sentence: waitingText(owed.length, Math.floor(oldestMin)) });
    log.warn('outbox.late', { owedCount: owed.length, oldestMin: Math.floor(oldestMin) });
  } else {
    troubles.delete('outbox');
    log.info('outbox.back', {});
  }
  live.publishResync();
}

function waitingText(owedCount: number, oldestMin: number): string {
  return owedCount === 1
    ? `1 message waits, for ${oldestMin} min`
    : `${owedCount} messages wait, the oldest for ${oldestMin} min`;
}

function nextMsOf({ tries }: Memory, owed: Owed): number {
  return tries.get(keyOf(owed))?.nextMs ?? 0;
}

/** Of one alert a channel is owed one message at a time. */
function keyOf({ channelId, alertId, message }: Owed): string {
  return `${channelId} ${alertId} ${message}`;
}

const MS_PER_MIN = 60_000;
/** Longer than this nothing may wait without every screen saying so [min]. */
const OWED_MAX_MIN = 10;
/** A receiver may ask for a pause of up to this [ms]. */
const ASKED_WAIT_MAX_MS = 60 * MS_PER_MIN;
const STORE_AGAIN_MS = 1000;
const PHONE_PREFIX = 'push:';
