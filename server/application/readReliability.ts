// What the shop may know of its own promises: the first tests of its closed batches, over all products.
import type { ReliabilityWire } from '../contract/index.ts';
import type { ProductLessons } from '../domain/learned.ts';
import { judgeReliability } from '../domain/reliability.ts';
import type { Shop } from './shop.ts';

/** The honest figures of the last closed batches. */
export async function readReliability(shop: Shop): Promise<ReliabilityWire> {
  const views = await shop.ledger.readViews('lessons', { openOnly: true });
  const lessons = views.flatMap(({ body }) => (body as ProductLessons).lessons);
  const { batchCount, bins, called, brier } = judgeReliability(lessons.map(({ firstCheck }) => firstCheck));
  return {
    batchCount,
    bins: [...bins],
    promise: { probability: shop.facts.testProbability, ...called },
    brier,
  };
}
