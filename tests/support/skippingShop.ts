// A shop whose minutes pass when a test says so: the real middle, HTTP, live feed and built pages, with steady air in two bays.
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { resolve } from 'node:path';
import { openFeed } from '../../server/adapters/feed/openFeed.ts';
import { makeApp } from '../../server/adapters/http/makeApp.ts';
import { readConfig } from '../../server/adapters/config/readConfig.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import { makeDoors } from '../../server/makeDoors.ts';
import { makeSkippingClock } from './skippingClock.ts';
import { OPENS_AT, openTestShop } from './testShop.ts';

export interface SkippingShop {
  readonly address: string;
  /** Lets minutes pass, with a reading from each bay in each of them, and tells every screen the time. */
  readonly passMinutes: (durationMin: number) => Promise<void>;
  close(): Promise<void>;
}

const MIN_MS = 60_000;
const BAYS_AIR = [
  { sensorId: 'bay-1-air', airTemperatureC: 21, relativeHumidityPct: 45 },
  { sensorId: 'bay-2-air', airTemperatureC: 21, relativeHumidityPct: 45 },
];
const PEOPLE = ['MK', 'TO'].map((initials) => ({ initials, name: null, isActive: true }));

/** Opens the example shop at seven in the morning with two people, after half an hour of air. */
export async function openSkippingShop(): Promise<SkippingShop> {
  const clock = makeSkippingClock(OPENS_AT);
  const feed = openFeed();
  const facts = { ...readConfig('config/shop.example.json', {}).shop, people: PEOPLE };
  const { shop } = await openTestShop({ clock, live: feed, facts });
  const doors = makeDoors(shop, { version: '0', refused: () => [] });
  const pagesFolder = resolve('dist/dashboard');
  const server = createServer(makeApp({ doors, log: shop.log, version: '0', pagesFolder }));
  feed.attach(server, { ledgerId: shop.ledger.ledgerId, sequence: await shop.ledger.readHead() });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  async function passMinutes(durationMin: number): Promise<void> {
    for (let passedMin = 0; passedMin < durationMin; passedMin += 1) {
      await clock.skipTo(instantFromMs(clock.nowAt() + MIN_MS));
      await recordReading(
        shop,
        BAYS_AIR.map((air, index) => ({ ...air, index, at: clock.nowAt() })),
      );
    }
    feed.publishResync();
  }
  await passMinutes(30);
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    passMinutes,
    async close() {
      clock.stop();
      await feed.close();
      server.closeAllConnections();
      server.close();
    },
  };
}
