// The built-in MQTT 3.1.1 broker: a reading is stored while its publish is authorised, so PUBACK comes after the disk.
import { createServer, type Server, type Socket } from 'node:net';
import {
  Aedes,
  type AedesOptions,
  type AuthorizePublishHandler,
  type Client,
  type PublishPacket,
} from 'aedes';
import type { AccessDoors, Ended } from '../../application/ports/accessDoors.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { Log } from '../../application/ports/live.ts';
import { PortFailure } from '../../application/ports/portFailure.ts';
import { type BrokerUsers, makeBrokerUsers } from './authorizeUsers.ts';
import { keepListening } from './keepListening.ts';
import { receiveReading } from './receiveReading.ts';
import { makeRefusedList, type RefusedList } from './refusedList.ts';

export interface BrokerSettings {
  readonly host: string;
  readonly port: number;
  readonly topicPrefix: string;
}

export interface OpenBroker {
  readonly port: number;
  readonly refused: RefusedList;
  /** Cuts what somebody holds open who has lost the way in. */
  readonly cut: (ended: Ended) => void;
  /** Publishes a message that stays at its topic; an empty one clears it. */
  readonly publish: (topic: string, payload: string) => Promise<void>;
  close(): Promise<void>;
}

export interface BrokerParts {
  readonly doors: Doors;
  readonly log: Log;
  /** Null or left out: no sign-in, everybody may everything. */
  readonly access?: AccessDoors | null;
  /** Makes the server that sockets come through; a plain one when left out. */
  readonly makeServer?: (listener: (socket: Socket) => void) => Server;
}

/** Opens the broker; rejects when its port is taken. */
export async function openBroker(
  { host, port, topicPrefix }: BrokerSettings,
  { doors, log, access, makeServer = createServer }: BrokerParts,
): Promise<OpenBroker> {
  const refused = makeRefusedList();
  const users = access === undefined || access === null ? null : makeBrokerUsers({ access, topicPrefix });
  const broker = await Aedes.createBroker({
    ...(users === null ? {} : handlersOf(users)),
    authorizePublish: authorizeWith({ doors, log, refused, topicPrefix, users }),
  });
  const server = makeServer(broker.handle);
  await listen(server, { host, port });
  const address = server.address();
  const openPort = typeof address === 'object' && address !== null ? address.port : port;
  const listening = keepListening(server, {
    host,
    port: openPort,
    tell: (isListening) => doors.noteBroker(isListening),
  });
  return {
    port: openPort,
    refused,
    cut: (ended) => users?.cut(ended),
    publish: (topic, payload) => publishRetained(broker, { topic, payload }),
    close: () =>
      new Promise((resolve) => {
        listening.stop();
        server.close();
        broker.close(() => resolve());
      }),
  };
}

function listen(server: Server, { host, port }: { host: string; port: number }): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
}

function publishRetained(
  broker: Aedes,
  { topic, payload }: { topic: string; payload: string },
): Promise<void> {
  return new Promise((resolve, reject) => {
    const packet = { cmd: 'publish', topic, payload, qos: 1, retain: true, dup: false } as const;
    broker.publish(packet, (error) => (error ? reject(error) : resolve()));
  });
}

function handlersOf(users: BrokerUsers): AedesOptions {
  return {
    authenticate: users.authenticate,
    // What is not granted is answered with a failure of that one subscription.
    authorizeSubscribe: (client, subscription, done) => done(null, users.grant(client, subscription)),
    // Looked at again with each message: a user may have changed since it subscribed.
    authorizeForward: (client, packet) => (users.mayHear(client, packet.topic) ? packet : null),
  };
}

/** A store that fails leaves the publish unacknowledged: the broker closes the connection and the sensor sends again. */
function authorizeWith(context: {
  doors: Doors;
  log: Log;
  refused: RefusedList;
  topicPrefix: string;
  users: BrokerUsers | null;
}): AuthorizePublishHandler {
  return function authorizePublish(client: Client | null, packet: PublishPacket, callback): void {
    if (client !== null && context.users !== null && !context.users.mayPublish(client, packet.topic)) {
      // Closes the connection: MQTT 3.1.1 has no other way to say no (3.3.5).
      callback(new Error('no right for this topic'));
      return;
    }
    if (client === null || !packet.topic.startsWith(`${context.topicPrefix}/`)) {
      callback(null);
      return;
    }
    if (isOwnTopic(packet.topic.slice(context.topicPrefix.length + 1))) {
      const { doors, refused } = context;
      const reason = 'only the shop speaks here';
      refused.add({ nowAt: doors.nowAt(), topic: packet.topic, reason, payload: packet.payload });
      callback(new Error(reason));
      return;
    }
    const { users } = context;
    const take = (): void => {
      receiveReading(packet, context).then(
        () => callback(null),
        (error: unknown) => {
          // A store that fails has its own line, one each way: a hundred readings a second must not fill a disk that is full.
          if (!(error instanceof PortFailure))
            context.log.error('reading.fault', { topic: packet.topic, reason: String(error) });
          callback(error instanceof Error ? error : new Error(String(error)));
        },
      );
    };
    const waitMs = users?.paceMs(client) ?? 0;
    if (waitMs === 0) take();
    // Meanwhile the broker reads no more from this connection: a flood stays in the sender's own memory.
    else
      setTimeout(() => {
        if (users?.mayPublish(client, packet.topic) === true) take();
        else callback(new Error('no right for this topic any more'));
      }, waitMs);
  };
}

/** What stands at the topics of lights and batches is the shop's own word: a light that anybody may switch warns nobody. */
function isOwnTopic(below: string): boolean {
  return below.startsWith('bays/') || below.startsWith('batches/');
}
