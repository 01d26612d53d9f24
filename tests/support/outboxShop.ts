// A shop in memory with its way out open: a notifier that answers as told, a clock that only moves when told to.
import { makeMemoryPushStore } from '../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import { type Outbox, openOutbox, type SendingPorts } from '../../server/application/deliverAlerts.ts';
import { shareNews } from '../../server/application/deliverNews.ts';
import type { OutMessage, SendOutcome, Target } from '../../server/application/ports/notifier.ts';
import type { PushStore } from '../../server/application/ports/pushStore.ts';
import type { Shop } from '../../server/application/shop.ts';
import type { DeliveryTrouble } from '../../server/contract/index.ts';
import type { Fact, FactBodies, FactType, Sequence } from '../../server/domain/facts.ts';
import type { WebhookSetting } from '../../server/domain/settingsChange.ts';
import { makeSimulatedClock } from './simulatedClock.ts';
import { openTestShop, OPENS_AT, type TestShop } from './testShop.ts';

/** What a receiver does with a message; hold: it answers when the test says so. */
export type Answer = SendOutcome | 'hold';

export interface Sent {
  readonly to: string;
  readonly id: string;
  readonly message: OutMessage['message'];
  readonly alertId: string | null;
}

export interface OutboxShop extends TestShop {
  readonly outbox: Outbox;
  readonly store: PushStore;
  /** Everything that reached a receiver's door, in order. */
  readonly sent: Sent[];
  /** How receivers answer from now on, by address; delivered when left out. */
  readonly answers: Map<string, (sent: Sent) => Answer>;
  /** Lets the oldest message that is held at an address have its answer. */
  release(to: string, outcome: SendOutcome): Promise<void>;
}

const NOTHING_WAITS: Shop['outbox'] = { owedCount: 0, oldestAt: null, givenUpCount: 0 };

export const DELIVERED: SendOutcome = { kind: 'delivered' };

/** A receiver's failure that may pass. */
export function failed(
  code: DeliveryTrouble['code'] = 'unreachable',
  status: number | null = null,
): SendOutcome {
  return { kind: 'failed', trouble: { code, status }, waitMs: null };
}

/** A webhook that was always there. */
export function webhook(id: string, parts: Partial<WebhookSetting> = {}): WebhookSetting {
  const url = `http://${id}.example/`;
  return { id, name: id, url, events: null, sinceAt: OPENS_AT, isRemoved: false, ...parts };
}

/** Opens the example shop with some webhooks; parts of an earlier one go on where it stopped. */
export async function openOutboxShop(
  webhooks: readonly WebhookSetting[],
  earlier: {
    readonly test?: OutboxShop;
    readonly shop?: Partial<Shop>;
    readonly store?: PushStore;
    /** The ledger as the way out alone has it. */
    readonly ledgerOf?: (ledger: Shop['ledger']) => Shop['ledger'];
  } = {},
): Promise<OutboxShop> {
  const store = earlier.store ?? earlier.test?.store ?? makeMemoryPushStore();
  let listener: () => void = () => undefined;
  const changes: TestShop['changes'] = [];
  const logged: string[] = [];
  const { live, listen } = shareNews({
    publishChange: (change) => changes.push(change),
    publishAir: () => undefined,
    publishResync: () => logged.push('resync'),
  });
  listen(() => listener());
  const kept = earlier.test;
  // The alert rules do not look: alerts come and go as the test says.
  const clock = kept?.clock ?? { ...makeSimulatedClock(OPENS_AT), wakeAt: () => undefined };
  // What an earlier program stored is there; what it had in memory is not.
  const test: TestShop =
    kept === undefined
      ? await openTestShop({ live, clock, ...earlier.shop })
      : { ...kept, shop: { ...kept.shop, live, outbox: NOTHING_WAITS, troubles: new Map() } };
  const { shop } = test;
  if (webhooks.length > 0) shop.facts = { ...shop.facts, webhooks };
  const sent: Sent[] = [];
  const answers: OutboxShop['answers'] = new Map();
  const held = new Map<string, ((outcome: SendOutcome) => void)[]>();
  let secretCount = 0;
  const ports: SendingPorts = {
    store,
    makeSecret: () => `whsec_${(secretCount += 1)}`,
    chance: () => 1,
    notifier: {
      async send(target, message) {
        const to = addressOf(target);
        const one = { to, id: message.id, message: message.message, alertId: message.alert?.id ?? null };
        sent.push(one);
        const answer = answers.get(to)?.(one) ?? DELIVERED;
        if (answer !== 'hold') return answer;
        return new Promise((resolve) => held.set(to, [...(held.get(to) ?? []), resolve]));
      },
      close: () => undefined,
    },
  };
  const ledger = earlier.ledgerOf?.(shop.ledger);
  const ofOutbox: Shop = ledger === undefined ? shop : { ...shop, ledger };
  const outbox = openOutbox(ofOutbox, ports);
  listener = () => outbox.look();
  outbox.look();
  return {
    ...test,
    clock,
    changes,
    logged: [...test.logged, ...logged],
    outbox,
    store,
    sent,
    answers,
    async release(to, outcome) {
      const [next, ...others] = held.get(to) ?? [];
      if (next === undefined) throw new Error(`nothing is held at ${to}`);
      held.set(to, others);
      next(outcome);
      await clock.moveBy(0);
    },
  };
}

/** Raises an alert of the shop by its fact, as the rules would. */
export async function raise(
  test: OutboxShop,
  alertId: string,
  bodies: Partial<FactBodies['AlertRaised']> = {},
): Promise<void> {
  const subjects = [subject('AB')];
  await tell(test, 'AlertRaised', { alertId, kind: 'condensation', subjects, ...bodies });
}

/** Appends a fact about an alert of the shop and tells of it. */
export async function tell<T extends FactType>(
  test: OutboxShop,
  type: T,
  body: FactBodies[T],
): Promise<void> {
  const { shop, clock } = test;
  const { evolveBookViews, readBook } = await import('../../server/application/advanceAlerts.ts');
  await shop.turns(async () => {
    const head = await shop.ledger.readHead();
    const at = clock.nowAt();
    const fact = {
      type,
      version: 1,
      at,
      recordedAt: at,
      by: null,
      batchId: null,
      bayId: null,
      body,
    } as unknown as Fact;
    const facts = [{ ...fact, sequence: (head + 1) as Sequence }];
    const { views } = evolveBookViews(await readBook(shop), facts);
    const appended = await shop.ledger.append({ afterSequence: head, facts, views });
    shop.live.publishChange({ sequence: appended.sequence, afterSequence: head, batches: [], alerts: [] });
  });
  await clock.moveBy(0);
}

/** A batch of somebody's that a line is about. */
export function subject(by: string | null): NonNullable<FactBodies['AlertRaised']['subjects']>[number] {
  return {
    batchId: null,
    panel: `Panel of ${by ?? 'nobody'}`,
    sensorId: null,
    bayId: 'bay-1',
    by,
    sinceAt: OPENS_AT,
  };
}

/** All facts so far. */
export async function factsOf({ shop }: OutboxShop): Promise<readonly Fact[]> {
  return shop.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 10_000 });
}

function addressOf(target: Target): string {
  return target.kind === 'webhook' ? new URL(target.url).hostname.replace(/\.example$/, '') : target.endpoint;
}
