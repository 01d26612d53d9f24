// The screens of a load run, in a process of their own: each takes every live message and notes how old it was.
import { io, type Socket } from 'socket.io-client';
import mqtt, { type MqttClient } from 'mqtt';
import { summaryOf, type Summary } from './loadFigures.ts';

/** What the run tells this process to listen to. */
export type Listen =
  | { readonly kind: 'live'; readonly address: string; readonly count: number }
  | { readonly kind: 'mqtt'; readonly port: number; readonly topic: string; readonly count: number };

export interface Heard {
  /** From a reading's own instant to each screen that was told of it [ms]. */
  readonly airMs: Summary;
  /** From the decision on a batch to each screen that was told of it [ms]. */
  readonly changeMs: Summary;
  readonly resyncCount: number;
  readonly gapCount: number;
}

interface Ages {
  airMs: number[];
  changeMs: number[];
  resyncCount: number;
  gapCount: number;
}

/** Listens until asked what was heard; a second question is about what came since. */
export function runClients(): void {
  let ages = noAges();
  process.on('message', (asked: Listen | 'report') => {
    if (asked === 'report') {
      process.send?.({ ...ages, airMs: summaryOf(ages.airMs), changeMs: summaryOf(ages.changeMs) });
      ages = noAges();
      return;
    }
    const joined = Array.from({ length: asked.count }, () =>
      asked.kind === 'live' ? joinLive(asked.address, () => ages) : joinMqtt(asked, () => ages),
    );
    void Promise.all(joined).then(() => process.send?.('joined'));
  });
  process.on('disconnect', () => process.exit(0));
}

function noAges(): Ages {
  return { airMs: [], changeMs: [], resyncCount: 0, gapCount: 0 };
}

interface LiveChange {
  readonly sequence: number;
  readonly afterSequence: number;
  readonly batches: readonly { readonly id: string; readonly estimate: { computedAt: string } | null }[];
}

async function joinLive(address: string, agesNow: () => Ages): Promise<Socket> {
  const snapshot = (await (await fetch(`${address}/api/v1/snapshot`)).json()) as {
    ledgerId: string;
    sequence: number;
  };
  let { sequence } = snapshot;
  const computedAt = new Map<string, string>();
  const socket = io(`${address}/live`, {
    transports: ['websocket'],
    forceNew: true,
    auth: (answer) => answer({ ledgerId: snapshot.ledgerId, sequence }),
  });
  socket.on('air', ({ at }: { at: string }) => agesNow().airMs.push(Date.now() - Date.parse(at)));
  socket.on('change', (change: LiveChange) => {
    if (change.afterSequence !== sequence) agesNow().gapCount += 1;
    sequence = change.sequence;
    for (const { id, estimate } of change.batches) {
      // An act may bring the batch again with an estimate that was told before.
      if (estimate === null || computedAt.get(id) === estimate.computedAt) continue;
      computedAt.set(id, estimate.computedAt);
      agesNow().changeMs.push(Date.now() - Date.parse(estimate.computedAt));
    }
  });
  socket.on('resync', () => (agesNow().resyncCount += 1));
  await new Promise<void>((resolve) => socket.once('connect', () => resolve()));
  return socket;
}

async function joinMqtt(
  { port, topic }: { port: number; topic: string },
  agesNow: () => Ages,
): Promise<MqttClient> {
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`);
  client.on('message', (_topic, payload) => {
    const { at } = JSON.parse(payload.toString()) as { at: string };
    agesNow().airMs.push(Date.now() - Date.parse(at));
  });
  await client.subscribeAsync(topic, { qos: 0 });
  return client;
}
