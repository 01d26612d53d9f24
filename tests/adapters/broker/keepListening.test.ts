// A broker that loses its port while the program runs: told once, opened again by itself, told once more.
import { createServer, type Server } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import mqtt from 'mqtt';
import { openBroker, type OpenBroker } from '../../../server/adapters/broker/openBroker.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { readHealth, readSnapshot } from '../../../server/application/readSnapshot.ts';
import { openTestShop } from '../../support/testShop.ts';

let broker: OpenBroker | null = null;
afterEach(async () => {
  await broker?.close();
  broker = null;
});

async function until(isSo: () => boolean): Promise<void> {
  while (!isSo()) await new Promise((resolve) => setTimeout(resolve, 20));
}

describe('a broker without its port', () => {
  it('is told to every screen, opens again at the same port, even when others held it for a while, and takes readings', async () => {
    const test = await openTestShop();
    const { shop } = test;
    const doors = makeDoors(shop, { version: '1', refused: () => [] });
    let server: Server | null = null;
    broker = await openBroker(
      { host: '127.0.0.1', port: 0, topicPrefix: 'sandby/v1' },
      { doors, log: shop.log, makeServer: (listener) => (server = createServer(listener)) },
    );
    const { port } = broker;
    const held = server as unknown as Server;
    await new Promise((resolve) => held.close(resolve));
    await until(() => shop.troubles.has('broker'));
    expect((await readHealth(shop, '1')).parts.broker).toContain('lost its port');
    expect((await readSnapshot(shop)).troubles).toEqual([{ part: 'broker', code: 'gone' }]);
    const other = createServer().listen(port, '127.0.0.1');
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(shop.troubles.has('broker')).toBe(true);
    await new Promise((resolve) => other.close(resolve));
    await until(() => !shop.troubles.has('broker'));
    expect((await readHealth(shop, '1')).status).toBe('ok');
    expect(test.logged.filter((event) => event !== 'resync')).toEqual(['broker.lost', 'broker.back']);
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`);
    await client.publishAsync('sandby/v1/readings/bay-1-air', JSON.stringify({ airTemperatureC: 17 }), {
      qos: 1,
    });
    await client.endAsync();
    expect((await readSnapshot(shop)).bays[0]?.airTemperatureC).toBe(17);
  });
});
