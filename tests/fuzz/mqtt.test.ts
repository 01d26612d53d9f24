// The MQTT door against malformed input, through the real broker and a real client: every publish is acknowledged, the
// connection stays, what cannot be read is counted and shown, and nothing of it stays in memory.
import { readFileSync } from 'node:fs';
import { connect } from 'node:net';
import * as fc from 'fast-check';
import mqtt, { type MqttClient } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBroker, type OpenBroker } from '../../server/adapters/broker/openBroker.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { openTestShop, type TestShop } from '../support/testShop.ts';
import { countFor } from '../support/testSize.ts';
import { GROWTH_MAX_BYTES, heapBytes } from './heap.ts';
import { malformedBytes } from './malformed.ts';
import { SENML_PACK } from './samples.ts';

const RUNS_COUNT = countFor({ usual: 300, nightly: 10_000 });
const RAW_COUNT = countFor({ usual: 30, nightly: 500 });
const FUZZ_MS = countFor({ usual: 120_000, nightly: 1_800_000 });
const SEED = 20_260_112;
const PREFIX = 'sandby/v1';
const REFUSED_KEPT_COUNT = 50;

let shop: TestShop;
let broker: OpenBroker;
let client: MqttClient;
let cutCount = 0;

beforeAll(async () => {
  shop = await openTestShop();
  const doors = makeDoors(shop.shop, { version: '0', refused: () => broker.refused.list() });
  broker = await openBroker(
    { host: '127.0.0.1', port: 0, topicPrefix: PREFIX },
    { doors, log: shop.shop.log },
  );
  client = await mqtt.connectAsync(`mqtt://127.0.0.1:${broker.port}`);
  client.on('close', () => {
    cutCount += 1;
  });
});
afterAll(async () => {
  await client.endAsync(true);
  await broker.close();
});

const level = fc
  .string({ minLength: 1, maxLength: 12 })
  .map((text) => Buffer.from(text.replaceAll(/[+#\0]/g, '-')).toString());
const topic = fc.oneof(
  { weight: 4, arbitrary: fc.constant(`${PREFIX}/readings/bay-1-air`) },
  { weight: 1, arbitrary: fc.constant(`${PREFIX}/readings/stranger`) },
  { weight: 1, arbitrary: level.map((name) => `${PREFIX}/readings/${name}`) },
  { weight: 1, arbitrary: fc.array(level, { minLength: 1, maxLength: 6 }).map((levels) => levels.join('/')) },
);
const PLAIN = { airTemperatureC: 20, relativeHumidityPct: 50, at: '2026-01-12T07:00:00Z' };
const payload = fc.oneof(malformedBytes(PLAIN), malformedBytes(SENML_PACK), malformedBytes([PLAIN, PLAIN]));

describe('malformed publishes', () => {
  const corpus = JSON.parse(readFileSync('tests/fuzz/corpus/mqtt.json', 'utf8')) as {
    why: string;
    topic: string;
    payload: string;
  }[];

  it.each(corpus)('are acknowledged: $why', async ({ topic: named, payload: text }) => {
    await client.publishAsync(named, text, { qos: 1 });
    expect(cutCount).toBe(0);
  });

  it(
    'are each acknowledged, and leave nothing behind but the last few for Setup',
    { timeout: FUZZ_MS },
    async () => {
      const round = (seed: number): Promise<void> =>
        fc.assert(
          fc.asyncProperty(topic, payload, async (named, bytes) => {
            await client.publishAsync(named, bytes, { qos: 1 });
            expect(cutCount).toBe(0);
          }),
          { seed, numRuns: RUNS_COUNT / 2, endOnFailure: true },
        );
      await round(SEED);
      const before = await heapBytes();
      await round(SEED + 1);
      expect((await heapBytes()) - before).toBeLessThan(GROWTH_MAX_BYTES);
      expect(broker.refused.list().length).toBeLessThanOrEqual(REFUSED_KEPT_COUNT);
      expect(broker.refused.count()).toBeGreaterThan(RUNS_COUNT / 10);
      expect(shop.logged).not.toContain('reading.unstored');
    },
  );

  it('as bytes that are no MQTT end their own connection and no other', { timeout: FUZZ_MS }, async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ minLength: 1, maxLength: 200 }), async (bytes) => {
        await sendRaw(bytes);
        expect(client.connected).toBe(true);
      }),
      { seed: SEED, numRuns: RAW_COUNT, endOnFailure: true },
    );
    await client.publishAsync(`${PREFIX}/readings/bay-1-air`, '{"airTemperatureC": 20}', { qos: 1 });
    expect(cutCount).toBe(0);
  });
});

/** Sends bytes to the broker's port and goes. */
function sendRaw(bytes: Uint8Array): Promise<void> {
  return new Promise((resolve) => {
    const socket = connect(broker.port, '127.0.0.1', () => {
      socket.write(bytes, () => socket.end());
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve());
    socket.resume();
    // A broker that waits for the rest of a packet is left waiting.
    socket.setTimeout(50, () => socket.destroy());
  });
}
