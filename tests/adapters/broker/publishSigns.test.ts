// MQTT out against a real client at the real broker: lights and batches that stand there, follow the shop, and are cleared.
import mqtt, { type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBroker, type OpenBroker } from '../../../server/adapters/broker/openBroker.ts';
import { publishSigns, type SignPublisher } from '../../../server/adapters/broker/publishSigns.ts';
import { shareNews } from '../../../server/application/deliverNews.ts';
import { makeSignDoors } from '../../../server/application/deliverSigns.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import type { Shop } from '../../../server/application/shop.ts';
import { batchSchema } from '../../../server/contract/index.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { act, openTestShop, sayAir, start, type TestShop } from '../../support/testShop.ts';

const PREFIX = 'sandby/v1';
let test: TestShop;
let broker: OpenBroker;
let client: MqttClient;
let signs: SignPublisher;
let listen: ReturnType<typeof shareNews>['listen'];
/** What a listener holds for each topic; cleared ones are gone. */
let held: Map<string, string>;

beforeEach(async () => {
  const shared = shareNews({
    publishChange: () => undefined,
    publishAir: () => undefined,
    publishResync: () => undefined,
  });
  listen = shared.listen;
  test = await openTestShop({ live: shared.live });
  const doors = makeDoors(test.shop, { version: '0', refused: () => [] });
  broker = await openBroker(
    { host: '127.0.0.1', port: 0, topicPrefix: PREFIX },
    { doors, log: test.shop.log },
  );
  client = await connect();
});
afterEach(async () => {
  signs.stop();
  await client.endAsync(true);
  await broker.close();
});

async function connect(): Promise<MqttClient> {
  held = new Map();
  const made = mqtt.connect(`mqtt://127.0.0.1:${broker.port}`, { protocolVersion: 4 });
  made.on('message', (topic, payload) => {
    if (payload.length === 0) held.delete(topic);
    else held.set(topic, payload.toString());
  });
  await made.subscribeAsync(`${PREFIX}/#`);
  return made;
}

function open(shop: Shop = test.shop): void {
  signs = publishSigns({
    doors: makeSignDoors(shop),
    log: shop.log,
    topicPrefix: PREFIX,
    publish: broker.publish,
  });
  listen((change) => signs.tell(change));
}

const light = (bayId: string): string | undefined => held.get(`${PREFIX}/bays/${bayId}/light`);
const stands = (): string[] => [...held.keys()].toSorted();
const LIGHTS = [`${PREFIX}/bays/bay-1/light`, `${PREFIX}/bays/bay-2/light`];

describe('the topics of a shop', () => {
  it('follow a batch from its start to its end', async () => {
    await sayAir(test, 22);
    open();
    await expect.poll(stands).toEqual(LIGHTS);
    expect(light('bay-1')).toBe('off');

    const { id } = await start(test);
    const topic = `${PREFIX}/batches/${id}`;
    await expect.poll(stands).toEqual([`${PREFIX}/batches/${id}`, ...LIGHTS]);
    await expect.poll(() => light('bay-1')).toBe('wait');
    expect(batchSchema.parse(JSON.parse(held.get(topic) ?? ''))).toMatchObject({
      id,
      stage: 'wet',
      bayId: 'bay-1',
    });

    await test.clock.moveBy(60);
    await expect.poll(() => light('bay-1')).toBe('test');
    expect(JSON.parse(held.get(topic) ?? '')).toMatchObject({ stage: 'test' });
    expect(light('bay-2')).toBe('off');

    await act(test, id, { type: 'recordCheck', outcome: 'powders' });
    await expect.poll(() => light('bay-1')).toBe('off');
    await act(test, id, { type: 'finishSanding' });
    await expect.poll(stands).toEqual(LIGHTS);
  });

  it('tell whoever comes later how things stand, and say nothing twice', async () => {
    await sayAir(test, 22);
    const { id } = await start(test);
    const said: string[] = [];
    const publish = broker.publish;
    signs = publishSigns({
      doors: makeSignDoors(test.shop),
      log: test.shop.log,
      topicPrefix: PREFIX,
      publish: (topic, payload) => {
        said.push(topic);
        return publish(topic, payload);
      },
    });
    await expect.poll(() => light('bay-1')).toBe('wait');
    const before = said.length;
    signs.tell(null);
    signs.tell(null);
    await test.clock.moveBy(0);
    expect(said).toHaveLength(before);

    const late = await connect();
    await expect.poll(stands).toEqual([`${PREFIX}/batches/${id}`, ...LIGHTS]);
    await late.endAsync(true);
  });

  it('are cleared of what closed before a restart, and of a bay that is no more', async () => {
    const { id } = await start(test);
    // As a broker of its own would still hold it.
    await broker.publish(`${PREFIX}/batches/${id}`, '{"id":"stale"}');
    await act(test, id, { type: 'scrap' });
    await expect.poll(stands).toEqual([`${PREFIX}/batches/${id}`]);
    open();
    await expect.poll(stands).toEqual(LIGHTS);

    test.shop.facts = { ...test.shop.facts, bays: test.shop.facts.bays.slice(0, 1) };
    signs.tell(null);
    await expect.poll(stands).toEqual(LIGHTS.slice(0, 1));
  });

  it('are looked at again once a store that failed is back', async () => {
    let isBroken = true;
    const doors = makeSignDoors(test.shop);
    signs = publishSigns({
      doors: {
        ...doors,
        readLights: async () => {
          if (isBroken) throw new PortFailure('ledger', 'readView', { isRetriable: true });
          return doors.readLights();
        },
      },
      log: test.shop.log,
      topicPrefix: PREFIX,
      publish: broker.publish,
    });
    await expect.poll(() => test.logged).toContain('signs.failed');
    expect(stands()).toEqual([]);
    isBroken = false;
    signs.tell(null);
    await expect.poll(stands).toEqual(LIGHTS);
  });

  it('are the shop’s alone: whoever else publishes there is cut off, and nothing changes', async () => {
    open();
    await expect.poll(stands).toEqual(LIGHTS);
    const stranger = mqtt.connect(`mqtt://127.0.0.1:${broker.port}`, {
      protocolVersion: 4,
      reconnectPeriod: 0,
    });
    const isCut = new Promise<void>((done) => stranger.once('close', () => done()));
    await stranger.publishAsync(`${PREFIX}/bays/bay-1/light`, 'stop', { retain: true });
    await isCut;
    expect(broker.refused.list()).toMatchObject([{ reason: 'only the shop speaks here' }]);
    const late = await connect();
    await expect.poll(() => light('bay-1')).toBe('off');
    await late.endAsync(true);
  });
});
