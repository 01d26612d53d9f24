// What a connection may cost before and after it has said who it is: the size of its packets, and what is kept of it.
import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import type { IClientOptions, MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BODY_BYTES_MAX } from '../../../server/contract/index.ts';
import { type AccessBroker, openAccessBroker } from '../../support/accessBroker.ts';

const PREFIX = 'sandby/v1';
/** CONNECT, and then a remaining length of 268,435,455 bytes (MQTT 3.1.1, 2.2.3, table 2.4). */
const HUGE_HEADER = Buffer.from([0x10, 0xff, 0xff, 0xff, 0x7f]);

let test: AccessBroker;
let password: string;

beforeEach(async () => {
  test = await openAccessBroker(PREFIX);
  password = await test.makeSensor('north', 'bay-1-air');
});
afterEach(() => test.close());

function connectAs(options: IClientOptions = {}): Promise<MqttClient> {
  return test.connect({ username: 'north', password, ...options });
}

/** The client's own kind of emitter is none of Node's. */
function comes(client: MqttClient, event: 'close' | 'connect'): Promise<unknown[]> {
  return new Promise((done) => client.once(event, (...told: unknown[]) => done(told)));
}

async function openSocket(): Promise<Socket> {
  const socket = connect(test.broker.port, '127.0.0.1');
  socket.on('error', () => undefined);
  await once(socket, 'connect');
  return socket;
}

describe('a stranger', () => {
  it.each([
    ['in one piece', [HUGE_HEADER]],
    ['byte by byte', [...HUGE_HEADER].map((byte) => Buffer.from([byte]))],
    ['behind a name that is as long as a page', [Buffer.from([0x10, 0xff, 0x3f])]],
  ])('is cut off at the header of a packet that announces too much, %s', async (_how, pieces) => {
    const socket = await openSocket();
    const closed = once(socket, 'close');
    for (const piece of pieces) {
      socket.write(piece);
      await new Promise((done) => setTimeout(done, 5));
    }
    await closed;
    expect(test.broker.refused.count()).toBe(0);
  });
});

describe('a sensor', () => {
  const READINGS = `${PREFIX}/readings/bay-1-air`;

  it('is told of a payload that is too large, and stays', async () => {
    const client = await connectAs();
    await client.publishAsync(READINGS, 'x'.repeat(BODY_BYTES_MAX + 1), { qos: 1 });
    await client.publishAsync(READINGS, '{"airTemperatureC": 20}', { qos: 1 });
    expect(test.broker.refused.list().map(({ reason }) => reason)).toEqual([
      `is larger than ${BODY_BYTES_MAX} bytes`,
    ]);
  });

  it('is cut off for a packet of more than twice that, and Setup says why', async () => {
    const client = await connectAs();
    const closed = comes(client, 'close');
    client.publish(READINGS, 'x'.repeat(2 * BODY_BYTES_MAX + 1), { qos: 1 });
    await closed;
    expect(test.broker.refused.list()[0]?.reason).toMatch(/^packet of \d+ bytes is larger than \d+ bytes$/);
  });

  it('leaves nothing behind when it goes: no session', async () => {
    const options = { clean: false, clientId: 'bay' };
    const first = await connectAs(options);
    await first.endAsync(true);
    const client = test.open({ ...options, username: 'north', password });
    const [{ sessionPresent }] = (await comes(client, 'connect')) as [{ sessionPresent: boolean }];
    expect(sessionPresent).toBe(false);
  });

  it('is let in with a last will to a topic of its maker, which is never sent', async () => {
    const will = { topic: 'maker/bay/online', payload: Buffer.from('no'), qos: 1 as const, retain: false };
    const client = await connectAs({ will });
    client.stream.destroy();
    await comes(client, 'close');
    await new Promise((done) => setTimeout(done, 100));
    expect(test.logged.filter((event) => event === 'broker.fault')).toEqual([]);
  });
});
