// A resync that has a sequence reaches also the screens that were away when it was told.
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { io } from 'socket.io-client';
import { expect, it } from 'vitest';
import { openFeed } from '../../../server/adapters/feed/openFeed.ts';
import type { ChangeWire } from '../../../server/contract/index.ts';
import type { Sequence } from '../../../server/domain/facts.ts';

const change = (sequence: number): ChangeWire => ({
  afterSequence: sequence - 1,
  sequence,
  batches: [],
  alerts: [],
});

it('sends a screen from before it to the snapshot, and gives one from after it the changes since', async () => {
  const feed = openFeed();
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  feed.attach(server, { ledgerId: 'a', sequence: 10 });
  /** What a screen that held a sequence is told first. */
  const toldFirst = (sequence: number): Promise<unknown> =>
    new Promise((done) => {
      const socket = io(`${address}/live`, { auth: { ledgerId: 'a', sequence }, forceNew: true });
      const end = (told: unknown): void => {
        socket.close();
        done(told);
      };
      socket.on('change', end);
      socket.on('resync', () => end('resync'));
    });
  feed.publishChange(change(11));
  expect(await toldFirst(10)).toEqual(change(11));
  feed.publishResync(12 as Sequence);
  expect(await toldFirst(10)).toBe('resync');
  expect(await toldFirst(11)).toBe('resync');
  feed.publishChange(change(13));
  expect(await toldFirst(12)).toEqual(change(13));
  expect(await toldFirst(11)).toBe('resync');
  await feed.close();
  server.close();
});
