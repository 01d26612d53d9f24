// The notifier against real receivers on loopback: a program that checks signatures, a push service that decrypts as a browser
// would, and every way in which a receiver can be of no use.
import { createECDH, createHmac } from 'node:crypto';
import { createServer, type AddressInfo } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { makeNotifier } from '../../../server/adapters/notify/makeNotifier.ts';
import { makeWebhookSecret } from '../../../server/adapters/notify/signWebhook.ts';
import { bringPushKeys } from '../../../server/adapters/notify/vapid.ts';
import { makeMemoryPushStore } from '../../../server/adapters/ledger/memory/makeMemoryPushStore.ts';
import type { Notifier, OutMessage, Target } from '../../../server/application/ports/notifier.ts';
import { pushMessageSchema, webhookMessageSchema } from '../../../server/contract/index.ts';
import { makeAlert } from '../../dashboard/fixtures.ts';
import { decryptPush } from '../../support/decryptPush.ts';
import { makeCertificate } from '../../support/makeCertificate.ts';
import { openReceiver, type Receiver } from '../../support/receiver.ts';
import { OPENS_AT } from '../../support/testShop.ts';

const certificate = makeCertificate();
const closing: (() => Promise<unknown> | void)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

async function open(isTls = false): Promise<Receiver> {
  const receiver = await openReceiver(isTls ? certificate : null);
  closing.push(() => receiver.close());
  return receiver;
}

async function notifier(isPushAllowed?: () => boolean): Promise<Notifier> {
  const keys = await bringPushKeys(makeMemoryPushStore());
  const made = makeNotifier({
    keys,
    tls: { ca: certificate.cert },
    ...(isPushAllowed === undefined ? {} : { isPushAllowed }),
  });
  closing.push(() => made.close());
  return made;
}

const MESSAGE: OutMessage = {
  id: 'b1.test.1.raised',
  message: 'raised',
  alert: makeAlert({ id: 'b1.test.1', kind: 'test', panel: 'Left front door' }),
  at: OPENS_AT,
  shopName: 'My shop',
};

const secret = makeWebhookSecret();
const webhookAt = (url: string): Target => ({ kind: 'webhook', url, secret });

/** A browser's subscription at a push service, with what only the browser knows. */
function subscribe(endpoint: string): { target: Target; own: { privateKey: string; auth: string } } {
  const pair = createECDH('prime256v1');
  pair.generateKeys();
  const auth = Buffer.alloc(16, 7).toString('base64url');
  return {
    target: { kind: 'push', endpoint, p256dh: pair.getPublicKey('base64url'), auth, language: 'es' },
    own: { privateKey: pair.getPrivateKey('base64url'), auth },
  };
}

describe('a webhook', () => {
  it('gets the alert as on the wire, signed over what was sent', async () => {
    const receiver = await open();
    expect(await (await notifier()).send(webhookAt(`${receiver.address}/hook`), MESSAGE)).toEqual({
      kind: 'delivered',
    });
    const [{ path, headers, body }] = receiver.received as [Receiver['received'][number]];
    expect(path).toBe('/hook');
    expect(headers['content-type']).toBe('application/json');
    expect(webhookMessageSchema.parse(JSON.parse(body.toString()))).toEqual({
      type: 'alert.raised',
      timestamp: '2026-01-12T07:00:00.000Z',
      data: { shop: { name: 'My shop' }, alert: MESSAGE.alert },
    });
    // As README says that a receiver checks it.
    const signed = `${String(headers['webhook-id'])}.${String(headers['webhook-timestamp'])}.${body.toString()}`;
    const key = Buffer.from(secret.replace(/^whsec_/, ''), 'base64');
    const expected = `v1,${createHmac('sha256', key).update(signed).digest('base64')}`;
    expect(String(headers['webhook-signature']).split(' ')).toContain(expected);
    expect(headers['webhook-id']).toBe(MESSAGE.id);
    expect(Math.abs(Date.now() / 1000 - Number(headers['webhook-timestamp']))).toBeLessThan(60);
  });

  it.each<[string, (receiver: Receiver) => void, object]>([
    [
      'says no',
      (r) => (r.answer = (s) => s.writeHead(500).end('no')),
      { kind: 'failed', trouble: { code: 'status', status: 500 } },
    ],
    [
      'asks for a pause',
      (r) => (r.answer = (s) => s.writeHead(429, { 'retry-after': '7' }).end()),
      { kind: 'failed', trouble: { code: 'status', status: 429 }, waitMs: 7000 },
    ],
    [
      'sends elsewhere',
      (r) => (r.answer = (s) => s.writeHead(302, { location: r.address }).end()),
      { kind: 'failed', trouble: { code: 'redirect', status: 302 } },
    ],
    [
      'is no more',
      (r) => (r.answer = (s) => s.writeHead(410).end()),
      { kind: 'gone', trouble: { code: 'gone', status: 410 } },
    ],
    [
      'hangs up',
      (r) => (r.answer = (s) => s.destroy()),
      { kind: 'failed', trouble: { code: 'unreachable', status: null } },
    ],
    [
      'answers without end',
      (r) =>
        (r.answer = (s) => {
          s.writeHead(200);
          const timer = setInterval(() => s.write('x'.repeat(8192)), 5);
          s.on('close', () => clearInterval(timer));
        }),
      { kind: 'delivered' },
    ],
  ])('that %s is told as such, after one request', async (_name, prepare, outcome) => {
    const receiver = await open();
    prepare(receiver);
    expect(await (await notifier()).send(webhookAt(receiver.address), MESSAGE)).toMatchObject(outcome);
    expect(receiver.received).toHaveLength(1);
  });

  it('that never answers is let go when the program stops', async () => {
    const receiver = await open();
    receiver.answer = () => undefined;
    const made = await notifier();
    const sending = made.send(webhookAt(receiver.address), MESSAGE);
    await expect.poll(() => receiver.received.length).toBe(1);
    made.close();
    expect(await sending).toMatchObject({ kind: 'failed', trouble: { code: 'timeout' } });
  });

  it('that is not there, has no name, or shows a stranger’s certificate is told as such', async () => {
    const closed = createServer();
    await new Promise<void>((done) => closed.listen(0, '127.0.0.1', done));
    const { port } = closed.address() as AddressInfo;
    await new Promise((done) => closed.close(done));
    const made = await notifier();
    expect(await made.send(webhookAt(`http://127.0.0.1:${port}/`), MESSAGE)).toMatchObject({
      trouble: { code: 'unreachable' },
    });
    expect(await made.send(webhookAt('http://nobody.invalid/'), MESSAGE)).toMatchObject({
      trouble: { code: 'unknownHost' },
    });
    const stranger = await openReceiver(makeCertificate('stranger'));
    closing.push(() => stranger.close());
    expect(await made.send(webhookAt(stranger.address), MESSAGE)).toMatchObject({ trouble: { code: 'tls' } });
    expect(stranger.received).toEqual([]);
  });
});

describe('a phone', () => {
  it('gets by its push service what only it can read, in its language', async () => {
    const service = await open(true);
    service.answer = (response) => void response.writeHead(201).end();
    const { target, own } = subscribe(`${service.address}/push/one`);
    expect(await (await notifier(() => true)).send(target, MESSAGE)).toEqual({ kind: 'delivered' });
    const [{ headers, body }] = service.received as [Receiver['received'][number]];
    expect(pushMessageSchema.parse(JSON.parse(decryptPush(body, own)))).toEqual({
      id: 'b1.test.1',
      message: 'raised',
      kind: 'test',
      name: 'Left front door',
      subjectCount: 1,
      language: 'es',
    });
    expect(body.includes('Left front door')).toBe(false);
    // RFC 8030, section 5; RFC 8291, section 4; RFC 8292, section 3.
    expect(headers).toMatchObject({ 'content-encoding': 'aes128gcm', urgency: 'high' });
    expect(Number(headers['ttl'])).toBeGreaterThan(0);
    expect(headers['topic']).toMatch(/^[\w-]{1,32}$/);
    expect(headers['authorization']).toMatch(/^vapid t=[\w-]+\.[\w-]+\.[\w-]+, k=[\w-]{87}$/);
  });

  it.each([404, 410])('whose push service answers %s is gone', async (status) => {
    const service = await open(true);
    service.answer = (response) => void response.writeHead(status).end();
    const { target } = subscribe(service.address);
    expect(await (await notifier(() => true)).send(target, MESSAGE)).toEqual({
      kind: 'gone',
      trouble: { code: 'gone', status },
    });
  });

  it('cannot make the program ask around in the shop, by address or by a name that leads there', async () => {
    const service = await open(true);
    const made = await notifier();
    for (const endpoint of [
      service.address,
      service.address.replace('localhost', '127.0.0.1'),
      'https://[::1]:1/',
    ])
      expect(await made.send(subscribe(endpoint).target, MESSAGE)).toMatchObject({
        kind: 'failed',
        trouble: { code: 'forbiddenAddress' },
      });
    expect(service.received).toEqual([]);
  });

  it('with a key that is none is gone, and harms nobody', async () => {
    const service = await open(true);
    const { target } = subscribe(service.address);
    const bad = { ...target, p256dh: Buffer.alloc(65, 4).toString('base64url') } as Target;
    expect(await (await notifier(() => true)).send(bad, MESSAGE)).toMatchObject({ kind: 'gone' });
    expect(service.received).toEqual([]);
  });
});
