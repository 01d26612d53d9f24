// A real broker over a shop in memory with sign-in, and sensors that come with name and password.
import mqtt, { type IClientOptions, type MqttClient } from 'mqtt';
import { openBroker, type OpenBroker } from '../../server/adapters/broker/openBroker.ts';
import type { AccessDoors } from '../../server/application/ports/accessDoors.ts';
import { makeAccessDoors } from '../../server/makeAccessDoors.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { openTestAccess, type TestAccess } from './testAccess.ts';

export interface AccessBroker extends TestAccess {
  readonly doors: AccessDoors;
  readonly broker: OpenBroker;
  /** Makes a user of one sensor; gives its password. */
  makeSensor(name: string, sensorId: string): Promise<string>;
  /** A client that is not connected yet, and is ended with the broker. */
  open(options: IClientOptions): MqttClient;
  /** A client once it is connected; it does not come back by itself. */
  connect(options: IClientOptions): Promise<MqttClient>;
  close(): Promise<void>;
}

/** Opens it; doors of access may be replaced. */
export async function openAccessBroker(
  topicPrefix: string,
  replaced: Partial<AccessDoors> = {},
): Promise<AccessBroker> {
  const test = await openTestAccess();
  const { shop, store, secrets } = test.access;
  const doors = { ...(await makeAccessDoors({ shop, store, secrets }, () => undefined)), ...replaced };
  const broker = await openBroker(
    { host: '127.0.0.1', port: 0, topicPrefix },
    {
      doors: makeDoors(test.shop, { version: '0', refused: () => [] }),
      log: test.shop.log,
      access: doors,
    },
  );
  const clients: MqttClient[] = [];
  const open = (options: IClientOptions): MqttClient => {
    const client = mqtt.connect(`mqtt://127.0.0.1:${broker.port}`, {
      protocolVersion: 4,
      reconnectPeriod: 0,
      ...options,
    });
    clients.push(client);
    return client;
  };
  return {
    ...test,
    doors,
    broker,
    async makeSensor(name, sensorId) {
      const made = await doors.makeSensorUser({ name, kind: 'sensor', sensorIds: [sensorId] });
      if (typeof made === 'string') throw new Error(made);
      return made.password;
    },
    open,
    connect: (options) =>
      new Promise((resolve, reject) => {
        const client = open(options);
        client.once('connect', () => resolve(client));
        client.once('error', reject);
      }),
    async close() {
      await Promise.all(clients.map((client) => client.endAsync(true)));
      await broker.close();
    },
  };
}
