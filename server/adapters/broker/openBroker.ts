// The built-in MQTT 3.1.1 broker: a reading is stored while its publish is authorised, so PUBACK comes after the disk.
import { createServer, type Server, type Socket } from 'node:net';
import { Aedes, type AuthorizePublishHandler, type Client, type PublishPacket } from 'aedes';
import type { Doors } from '../../application/ports/doors.ts';
import type { Log } from '../../application/ports/live.ts';
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
  close(): Promise<void>;
}

/** Opens the broker; rejects when its port is taken. */
export async function openBroker(
  { host, port, topicPrefix }: BrokerSettings,
  { doors, log }: { doors: Doors; log: Log },
): Promise<OpenBroker> {
  const refused = makeRefusedList();
  const broker = await Aedes.createBroker({
    authorizePublish: authorizeWith({ doors, log, refused, topicPrefix }),
  });
  const server = createServer(broker.handle as (socket: Socket) => void);
  await listen(server, { host, port });
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : port,
    refused,
    close: () =>
      new Promise((resolve) => {
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

/** A store that fails leaves the publish unacknowledged: the broker closes the connection and the sensor sends again. */
function authorizeWith(context: {
  doors: Doors;
  log: Log;
  refused: RefusedList;
  topicPrefix: string;
}): AuthorizePublishHandler {
  return function authorizePublish(client: Client | null, packet: PublishPacket, callback): void {
    if (client === null || !packet.topic.startsWith(`${context.topicPrefix}/`)) {
      callback(null);
      return;
    }
    receiveReading(packet, context).then(
      () => callback(null),
      (error: unknown) => {
        context.log.error('reading.unstored', { topic: packet.topic, reason: String(error) });
        callback(error instanceof Error ? error : new Error(String(error)));
      },
    );
  };
}
