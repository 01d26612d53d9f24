// The door for people: idempotency, versions, undo, moves and lamps, alerts acknowledged, views that facts give again.
import { describe, expect, it } from 'vitest';
import { acknowledgeAlert } from '../../server/application/acknowledgeAlert.ts';
import { handleCommand, startBatch } from '../../server/application/handleCommand.ts';
import { readAlerts, readBatch, readBatches } from '../../server/application/readSnapshot.ts';
import { catchUp } from '../../server/application/openShop.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { Sequence } from '../../server/domain/facts.ts';
import { act, done, openTestShop, PLAIN_BATCH, sayAir, start } from '../support/testShop.ts';

describe('a key', () => {
  it('is answered again with the first answer and done once', async () => {
    const test = await openTestShop();
    const ask = { key: 'one', body: PLAIN_BATCH };
    const first = await startBatch(test.shop, ask);
    const again = await startBatch(test.shop, ask);
    expect(again).toEqual({ ...first, isRepeat: true });
    expect((await readBatches(test.shop, { openOnly: false })).batches).toHaveLength(1);
  });

  it('is refused when it comes with another body', async () => {
    const test = await openTestShop();
    await startBatch(test.shop, { key: 'one', body: PLAIN_BATCH });
    const other = await startBatch(test.shop, { key: 'one', body: { ...PLAIN_BATCH, thicknessMm: 3 } });
    expect(other).toEqual({ kind: 'key-reused' });
  });

  it('stores one batch when ten taps with it arrive at once', async () => {
    const test = await openTestShop();
    const answers = await Promise.all(
      Array.from({ length: 10 }, () => startBatch(test.shop, { key: 'one', body: PLAIN_BATCH })),
    );
    expect(new Set(answers.map((answer) => done(answer).id)).size).toBe(1);
    expect((await readBatches(test.shop, { openOnly: false })).batches).toHaveLength(1);
  });
});

describe('a command', () => {
  it('is refused with a stale version and leaves nothing behind', async () => {
    const test = await openTestShop();
    const batch = await start(test);
    await act(test, batch.id, { type: 'markSpread' });
    const head = await test.shop.ledger.readHead();
    const answer = await act(test, batch.id, { type: 'scrap', expectedVersion: batch.version });
    expect(answer).toMatchObject({ kind: 'refused', refusal: { code: 'version-stale' } });
    expect(await test.shop.ledger.readHead()).toBe(head);
  });

  it('is refused for a batch that never was', async () => {
    const test = await openTestShop();
    const answer = await handleCommand(test.shop, 'nobody', { key: 'k', body: { type: 'scrap' } });
    expect(answer).toMatchObject({ kind: 'refused', refusal: { code: 'unknown-batch' } });
  });

  it('that moves the batch to a warm bay brings the time forward and names no cold bay any more', async () => {
    const test = await openTestShop();
    await sayAir(test, 11);
    await sayAir(test, 22, { sensorId: 'bay-2-air' });
    const cold = await start(test);
    await test.clock.moveBy(1);
    const warm = done(await act(test, cold.id, { type: 'moveToBay', bayId: 'bay-2' }));
    expect(Date.parse(String(warm.estimate?.test.p50At))).toBeLessThan(
      Date.parse(String(cold.estimate?.test.p50At)) - 5 * 60_000,
    );
    expect(warm.bayId).toBe('bay-2');
  });

  it('that puts a lamp on shortens the wait in a cold bay and says so', async () => {
    const test = await openTestShop();
    await sayAir(test, 10);
    const cold = await start(test);
    await test.clock.moveBy(9);
    const lit = done(
      await act(test, cold.id, { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: 10 }),
    );
    expect(lit.estimate?.reasons.some((reason) => reason.code === 'lamp' && reason.minutes < -2)).toBe(true);
    expect(lit.lamps).toMatchObject([{ lampId: 'lamp-1', fluxWPerM2: 550 }]);
  });

  it('is taken back by undo, and the views are those that the facts alone give', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    await test.clock.moveBy(18);
    await sayAir(test, 20);
    const sanding = done(await act(test, id, { type: 'recordCheck', outcome: 'powders', firstTry: true }));
    expect(sanding.stage).toBe('sanding');
    const factSequence = Number(sanding.lastAct?.factSequence);
    const back = done(await act(test, id, { type: 'undo', factSequence }));
    expect(back.stage).toBe('kicked');
    expect(back.checks).toEqual([]);
    expect(back.version).toBeGreaterThan(sanding.version);
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });

  it('that undoes the start leaves a scrapped batch, so that screens see it go', async () => {
    const test = await openTestShop();
    const batch = await start(test);
    const gone = done(
      await act(test, batch.id, { type: 'undo', factSequence: Number(batch.lastAct?.factSequence) }),
    );
    expect(gone.stage).toBe('scrapped');
    expect(test.changes.at(-1)?.batches[0]?.stage).toBe('scrapped');
    expect((await readBatches(test.shop, { openOnly: true })).batches).toEqual([]);
  });
});

describe('an alert', () => {
  it('is acknowledged once, by name, and leaves the open ones', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    await start(test);
    await test.clock.moveBy(4.5);
    const [alert] = await readAlerts(test.shop);
    const alertId = String(alert?.id);
    done(await acknowledgeAlert(test.shop, alertId, { key: 'a', body: { by: 'MK' } }));
    done(await acknowledgeAlert(test.shop, alertId, { key: 'b', body: {} }));
    expect(await readAlerts(test.shop)).toEqual([]);
    const facts = await test.shop.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 100 });
    expect(facts.filter((fact) => fact.type === 'AlertAcknowledged')).toMatchObject([{ by: 'MK' }]);
    expect(await acknowledgeAlert(test.shop, 'none', { key: 'c', body: {} })).toMatchObject({
      kind: 'refused',
    });
  });
});

describe('views', () => {
  it('that were spoiled are named and mended by a rebuild', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const batch = await start(test);
    await test.shop.ledger.replaceViews([]);
    expect((await rebuildViews(test.shop.ledger)).differences).toContain(`batch ${batch.id}`);
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
    expect((await readBatch(test.shop, batch.id))?.facts.map((fact) => fact['type'])).toContain(
      'BatchStarted',
    );
  });
});

describe('a calibration', () => {
  it('is kept once a statement, with the constants that were found', async () => {
    const test = await openTestShop();
    await catchUp(test.shop);
    const facts = await test.shop.ledger.readFacts({ afterSequence: 0 as Sequence, limit: 100 });
    expect(facts.map((fact) => fact.type)).toEqual(Array.from({ length: 4 }, () => 'CardCalibrated'));
    const view = await test.shop.ledger.readView('card', 'body-filler');
    expect(view).toMatchObject({
      cardId: 'body-filler',
      constants: test.shop.cards.get('body-filler')?.constants,
    });
    const changed = new Map(test.shop.cards);
    const card = changed.get('body-filler');
    if (card !== undefined) changed.set('body-filler', { ...card, sandMin: 19 });
    await catchUp({ ...test.shop, cards: changed });
    expect(await test.shop.ledger.readHead()).toBe(5);
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });
});
