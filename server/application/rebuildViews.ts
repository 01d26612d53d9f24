// Views from nothing: folds every batch's facts and compares with what is stored.
import type { Card, CardStated } from '../domain/card.ts';
import type { BatchId, Fact, FactBodies, Sequence } from '../domain/facts.ts';
import { foldBatch } from '../domain/evolveBatch.ts';
import { foldLessons, noLessons, type ProductLessons } from '../domain/learned.ts';
import { type AccessLog, EMPTY_ACCESS_LOG, foldAccess } from '../domain/accessLog.ts';
import { EMPTY_BOOK, isOfBook } from '../domain/alertBook.ts';
import { accessViewFrom } from './accessAudit.ts';
import type { Delivery } from '../domain/deliverBook.ts';
import { evolveBookViews } from './advanceAlerts.ts';
import { foldSettings, NO_SETTINGS, type SettingsByHand } from '../domain/settings.ts';
import { cardViewFrom, viewsOf } from './appendFacts.ts';
import { evolveDeliveryViews } from './deliverViews.ts';
import { viewsOfLessons } from './lessonViews.ts';
import type { Ledger, ViewChange, ViewKind } from './ports/ledger.ts';
import { settingsViewFrom } from './settingsView.ts';

export interface RebuildReport {
  readonly factCount: number;
  readonly viewCount: number;
  /** Kind and id of views that stood otherwise than their facts say. */
  readonly differences: readonly string[];
  readonly isMended: boolean;
}

const PAGE_COUNT = 1000;
const VIEW_KINDS: readonly ViewKind[] = [
  'batch',
  'alert',
  'card',
  'lessons',
  'learned',
  'settings',
  'alertBook',
  'accessLog',
  'delivery',
];

/** Somebody may write while we compare: then facts and views are of different moments and are read again. */
const COMPARE_TRIES_MAX = 20;

/** Rebuilds all views from facts and says which of the stored ones differ; mending puts the rebuilt ones in their place. */
export async function rebuildViews(
  ledger: Ledger,
  { isMending }: { isMending: boolean } = { isMending: true },
): Promise<RebuildReport> {
  for (let tryIndex = 0; ; tryIndex += 1) {
    const head = await ledger.readHead();
    const { rebuilt, factCount } = await rebuildAll(ledger);
    const stored = await readStored(ledger);
    const isMoved = (await ledger.readHead()) !== head;
    if (isMoved && tryIndex < COMPARE_TRIES_MAX) continue;
    const differences = differencesBetween(
      stored,
      new Map(rebuilt.map((view) => [nameOf(view), textOf(view)])),
    );
    const isMended = isMending && differences.length > 0;
    if (isMended) await ledger.replaceViews(rebuilt);
    return { factCount, viewCount: rebuilt.length, differences, isMended };
  }
}

async function rebuildAll(ledger: Ledger): Promise<{ rebuilt: ViewChange[]; factCount: number }> {
  const { factsOfBatch, factsOfBook, deliveries, cards, lessons, settings, accessLog, factCount } =
    await readFactsByBatch(ledger);
  const rebuilt: ViewChange[] = [...cards.values()].map((card) => cardViewFrom(card));
  if (settings !== NO_SETTINGS) rebuilt.push(settingsViewFrom(settings));
  if (accessLog !== EMPTY_ACCESS_LOG) rebuilt.push(accessViewFrom(accessLog));
  for (const card of cards.values()) {
    const own = lessons.get(card.cardId);
    if (own !== undefined) rebuilt.push(...viewsOfLessons(own, cardFrom(card)));
  }
  for (const facts of factsOfBatch.values()) {
    const state = foldBatch(facts);
    if (state !== null) rebuilt.push(...viewsOf(state));
  }
  rebuilt.push(...evolveBookViews(EMPTY_BOOK, factsOfBook).views);
  rebuilt.push(...deliveries.values());
  return { rebuilt, factCount };
}

async function readFactsByBatch(ledger: Ledger): Promise<{
  factsOfBatch: Map<BatchId, Fact[]>;
  /** Of the shop's own alerts. */
  factsOfBook: Fact[];
  /** What was told outside the pages, by alert. */
  deliveries: Map<string, ViewChange>;
  cards: Map<string, FactBodies['CardCalibrated']>;
  lessons: Map<string, ProductLessons>;
  settings: SettingsByHand;
  accessLog: AccessLog;
  factCount: number;
}> {
  const factsOfBatch = new Map<BatchId, Fact[]>();
  const factsOfBook: Fact[] = [];
  const cards = new Map<string, FactBodies['CardCalibrated']>();
  const lessons = new Map<string, ProductLessons>();
  const told = new Map<string, Delivery>();
  const deliveries = new Map<string, ViewChange>();
  let settings = NO_SETTINGS;
  let accessLog = EMPTY_ACCESS_LOG;
  let afterSequence = 0 as Sequence;
  let factCount = 0;
  const head = await ledger.readHead();
  while (afterSequence < head) {
    const facts = await ledger.readFacts({ afterSequence, limit: PAGE_COUNT });
    for (const view of evolveDeliveryViews(told, facts)) deliveries.set(view.id, view);
    for (const fact of facts) {
      factCount += 1;
      afterSequence = fact.sequence;
      settings = foldSettings(settings, fact);
      accessLog = foldAccess(accessLog, fact);
      if (fact.type === 'CardCalibrated') cards.set(fact.body.cardId, fact.body);
      if (fact.type === 'LessonTaken')
        lessons.set(fact.body.cardId, lessons.get(fact.body.cardId) ?? noLessons(fact.body.cardId));
      for (const [cardId, own] of lessons) lessons.set(cardId, foldLessons(own, fact));
      if (isOfBook(fact)) factsOfBook.push(fact);
      if (fact.batchId === null) continue;
      factsOfBatch.set(fact.batchId, [...(factsOfBatch.get(fact.batchId) ?? []), fact]);
    }
  }
  return { factsOfBatch, factsOfBook, deliveries, cards, lessons, settings, accessLog, factCount };
}

async function readStored(ledger: Ledger): Promise<Map<string, string>> {
  const views: ViewChange[] = [];
  for (const kind of VIEW_KINDS) {
    views.push(...(await ledger.readViews(kind, { openOnly: false })));
  }
  return new Map(views.map((view) => [nameOf(view), textOf(view)]));
}

/** A card as its fact states it: the settings may know it no more. */
function cardFrom({ statement, constants }: FactBodies['CardCalibrated']): Card {
  return { ...(JSON.parse(statement) as CardStated), constants };
}

function nameOf(view: ViewChange): string {
  return `${view.kind} ${view.id}`;
}

/** Views are compared as JSON with keys in order, since a store gives keys back as it likes. */
function textOf(view: ViewChange): string {
  return JSON.stringify([view.isOpen, sortKeys(view.body)]);
}

function sortKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => sortKeys(one));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sortKeys(inner)]),
  );
}

function differencesBetween(
  stored: ReadonlyMap<string, string>,
  rebuilt: ReadonlyMap<string, string>,
): string[] {
  const names = new Set([...stored.keys(), ...rebuilt.keys()]);
  return [...names].filter((name) => stored.get(name) !== rebuilt.get(name)).toSorted();
}
