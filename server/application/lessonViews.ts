// What the shop has learned, as views: the lessons of a product, and apart from them the belief that windows read.
import type { Card } from '../domain/card.ts';
import type { Fact } from '../domain/facts.ts';
import {
  foldLessons,
  learnedFrom,
  type LearnedProduct,
  noLessons,
  type ProductLessons,
} from '../domain/learned.ts';
import type { ViewChange } from './ports/ledger.ts';
import type { Shop } from './shop.ts';

/** The views that these facts change: none unless one is a lesson or takes one back. */
export async function lessonViews(shop: Shop, cardId: string, facts: readonly Fact[]): Promise<ViewChange[]> {
  if (!facts.some(({ type }) => type === 'LessonTaken' || type === 'FactUndone')) return [];
  const card = shop.cards.get(cardId);
  if (card === undefined) return [];
  const before = (await readLessons(shop, cardId)) ?? noLessons(cardId);
  const after = facts.reduce(foldLessons, before);
  return after === before ? [] : viewsOfLessons(after, card);
}

/** Both views of a product's lessons. */
export function viewsOfLessons(lessons: ProductLessons, card: Card): ViewChange[] {
  const { cardId: id } = lessons;
  return [
    { kind: 'lessons', id, isOpen: true, body: lessons },
    { kind: 'learned', id, isOpen: true, body: learnedFrom(lessons, card) },
  ];
}

/** The lessons of a product; null when it never had one. */
export async function readLessons(shop: Shop, cardId: string): Promise<ProductLessons | null> {
  return (await shop.ledger.readView('lessons', cardId)) as ProductLessons | null;
}

/** What windows of a product start from; null where only the card speaks, or where the shop wants it so. */
export async function readLearned(shop: Shop, cardId: string): Promise<LearnedProduct | null> {
  if (!shop.facts.isLearning) return null;
  return (await shop.ledger.readView('learned', cardId)) as LearnedProduct | null;
}
