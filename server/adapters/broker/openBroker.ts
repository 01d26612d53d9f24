// The built-in MQTT 3.1.1 broker: a reading is stored while its publish is authorised, so PUBACK comes after the disk.
import type { EventEmitter } from 'node:events';
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
import { BODY_BYTES_MAX } from '../../contract/index.ts';
import { type BrokerUsers, makeBrokerUsers } from './authorizeUsers.ts';
import { keepListening } from './keepListening.ts';
import { limitPackets } from './limitPackets.ts';
import { makePaceLine } from './paceLine.ts';
import { receiveReading } from './receiveReading.ts';
import { makeRefusedList, type RefusedList } from './refusedList.ts';

/** What a connection may have under way at QoS 2, which is kept whole until it is released. */
const INFLIGHT_MAX_COUNT = 20;
/** A payload that is too large is told in Setup; one beyond twice of that ends its connection. */
const PACKET_LIMITS = { firstBytesMax: 4096, bytesMax: 2 * BODY_BYTES_MAX };

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
    maxInflightInbound: INFLIGHT_MAX_COUNT,
    preConnect: (_client, packet, done) => {
      // Nothing is kept of who is away: lights are retained, a sensor keeps its own readings, and memory is not a stranger's.
      packet.clean = true;
      done(null, true);
    },
    authorizePublish: authorizeWith({ doors, log, refused, topicPrefix, users, inLine: makePaceLine() }),
  });
  // A will that may not be sent when the broker clears up must not end the program.
  (broker as EventEmitter).on('error', (error) => log.error('broker.fault', { reason: String(error) }));
  const server = makeServer((socket) => {
    limitPackets(socket, PACKET_LIMITS, (announcedBytes) => {
      const reason = `packet of ${announcedBytes} bytes is larger than ${PACKET_LIMITS.bytesMax} bytes`;
      refused.add({ nowAt: doors.nowAt(), topic: '', reason, payload: '' });
    });
    broker.handle(socket);
  });
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
  inLine: ReturnType<typeof makePaceLine>;
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
    const { users, inLine } = context;
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
    if (users === null) return take();
    // Meanwhile the broker reads no more from this connection: a flood stays in the sender's own memory.
    inLine(client, {
      paceMs: () => users.paceMs(client, packet.payload.length),
      take: () =>
        users.mayPublish(client, packet.topic)
          ? take()
          : callback(new Error('no right for this topic any more')),
      callOff: () => callback(new Error('the connection is gone')),
    });
  };
}

/** What stands at the topics of lights and batches is the shop's own word: a light that anybody may switch warns nobody. */
function isOwnTopic(below: string): boolean {
  return below.startsWith('bays/') || below.startsWith('batches/');
}
