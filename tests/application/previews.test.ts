// What if: previews tell what the same estimate would be, and leave nothing behind.
import { describe, expect, it } from 'vitest';
import { previewBatch, previewStart } from '../../server/application/previewEstimate.ts';
import type { EstimateWire, PreviewBatch } from '../../server/contract/index.ts';
import { act, openTestShop, PLAIN_BATCH, sayAir, start, type TestShop } from '../support/testShop.ts';

const p50Ms = (estimate: EstimateWire | null | undefined): number => Date.parse(String(estimate?.test.p50At));

async function previewOf(test: TestShop, body: PreviewBatch): Promise<EstimateWire> {
  const preview = await previewBatch(test.shop, body);
  if (preview.kind === 'refused') throw new Error(preview.refusal.sentence);
  return preview.estimate;
}

describe('a preview', () => {
  it('of a mix is the estimate that its start then gets, and stores nothing', async () => {
    const test = await openTestShop();
    await sayAir(test, 16);
    const head = await test.shop.ledger.readHead();
    const preview = await previewStart(test.shop, PLAIN_BATCH);
    expect(await test.shop.ledger.readHead()).toBe(head);
    const batch = await start(test);
    expect(preview).toEqual({ kind: 'done', estimate: batch.estimate });
  });

  it('of a batch says what a warm bay, a lamp or warmer air would take off', async () => {
    const test = await openTestShop();
    await sayAir(test, 10);
    await sayAir(test, 22, { sensorId: 'bay-2-air' });
    const batch = await start(test);
    await test.clock.moveBy(8);
    await sayAir(test, 10);
    const asIs = p50Ms(await previewOf(test, { batchId: batch.id }));
    expect(Math.abs(asIs - p50Ms(batch.estimate))).toBeLessThan(1000);
    for (const change of [
      { bayId: 'bay-2' },
      { airTemperatureC: 22 },
      { lampId: 'lamp-1', distanceCm: 90, forMin: 10 },
    ]) {
      expect(p50Ms(await previewOf(test, { batchId: batch.id, ...change }))).toBeLessThan(asIs - 3 * 60_000);
    }
    expect(p50Ms(await previewOf(test, { batchId: batch.id, airTemperatureC: 5 }))).toBeGreaterThan(asIs);
  });

  it('is refused for what is not there and for what no longer cures', async () => {
    const test = await openTestShop();
    await sayAir(test, 20);
    const { id } = await start(test);
    const code = async (body: PreviewBatch): Promise<string> => {
      const preview = await previewBatch(test.shop, body);
      return preview.kind === 'refused' ? preview.refusal.code : 'done';
    };
    expect(await code({ batchId: 'nobody' })).toBe('unknown-batch');
    expect(await code({ batchId: id, bayId: 'nowhere' })).toBe('unknown-bay');
    expect(await code({ batchId: id, lampId: 'lamp-1', distanceCm: 200 })).toBe('unknown-distance');
    await act(test, id, { type: 'scrap' });
    expect(await code({ batchId: id })).toBe('batch-closed');
    expect(await previewStart(test.shop, { ...PLAIN_BATCH, cardId: 'nothing' })).toMatchObject({
      kind: 'refused',
    });
  });
});
