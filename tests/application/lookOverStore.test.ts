// Damage that the look after the start finds: said in health and to every screen, and no write makes it go away.
import { expect, it } from 'vitest';
import { lookOverStore } from '../../server/application/lookOverStore.ts';
import { readHealth } from '../../server/application/readSnapshot.ts';
import { openTestShop, sayAir } from '../support/testShop.ts';

it('leaves a shop whose store is sound as it is, and looks once', async () => {
  const test = await openTestShop();
  let lookCount = 0;
  lookOverStore(test.shop, async () => {
    lookCount += 1;
    return { kind: 'sound' };
  });
  expect(lookCount).toBe(0);
  await test.clock.moveBy(600);
  expect(lookCount).toBe(1);
  expect((await readHealth(test.shop, '0')).status).toBe('ok');
});

it('says what is damaged and how to go on, once, whatever is stored afterwards', async () => {
  const test = await openTestShop();
  lookOverStore(test.shop, async () => ({ kind: 'damaged', sentence: 'the file is damaged: page 7' }));
  await test.clock.moveBy(1);
  await sayAir(test, 18);
  const { status, parts } = await readHealth(test.shop, '0');
  expect(status).toBe('degraded');
  expect(parts.ledger).toBe('the file is damaged: page 7; stop the program and restore the newest good copy');
  expect(test.logged.filter((event) => event === 'store.damaged')).toHaveLength(1);
  expect(test.logged).toContain('resync');
});

it('takes a look that was cut short for none', async () => {
  const test = await openTestShop();
  lookOverStore(test.shop, async () => ({ kind: 'unfinished' }));
  await test.clock.moveBy(1);
  expect((await readHealth(test.shop, '0')).status).toBe('ok');
  expect(test.logged).toContain('store.looked');
});
