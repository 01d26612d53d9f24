// A shop of the domain alone for the tests of alerts: batches, sensors and a clock, brought on by the pure rules, with every
// fact kept as a ledger would keep it.
import { decideAlerts } from '../../server/domain/decideAlerts.ts';
import { type AlertBook, EMPTY_BOOK, evolveBook, isOfBook } from '../../server/domain/alertBook.ts';
import type { SensorHeard } from '../../server/domain/alertCandidates.ts';
import { type BatchState, isOpen } from '../../server/domain/batch.ts';
import { decideBatch } from '../../server/domain/decideBatch.ts';
import { evolveBatch, foldBatch } from '../../server/domain/evolveBatch.ts';
import type { BatchId, Estimate, Fact, FactBodies, FactDraft, FactType } from '../../server/domain/facts.ts';
import { ALERT_SETTINGS, BODY_FILLER, estimateOf, minute, placeDrafts, started } from './domainFixtures.ts';

export interface AlertWorld {
  nowMin: number;
  facts: Fact[];
  readonly batches: Map<BatchId, BatchState>;
  readonly estimates: Map<BatchId, Estimate>;
  readonly sensors: Map<string, SensorHeard>;
  book: AlertBook;
}

/** An empty shop at the minute at which its first batch may be mixed. */
export function openWorld(): AlertWorld {
  return {
    nowMin: 0,
    facts: [],
    batches: new Map(),
    estimates: new Map(),
    sensors: new Map(),
    book: EMPTY_BOOK,
  };
}

/** Mixes a batch now, and lets it have a first estimate of the plainest kind. */
export function mix(world: AlertWorld, name: string, by: string | null = 'AB'): void {
  const { draft } = started({ panel: `Panel ${name}`, mixedAt: minute(world.nowMin) });
  keep(world, [{ ...draft, at: minute(world.nowMin), by, batchId: name as BatchId }]);
  estimate(world, name);
}

/** What a batch's next looks will find; times are minutes after the world began. */
export function estimate(world: AlertWorld, name: string, parts: Partial<Estimate> = {}): void {
  const mixedMin = (world.batches.get(name as BatchId)?.mixedAt as number) - minute(0);
  const plain = Object.fromEntries(
    Object.entries(estimateOf()).map(([key, value]) =>
      key.endsWith('At') && typeof value === 'number' ? [key, value + mixedMin] : [key, value],
    ),
  ) as unknown as Estimate;
  world.estimates.set(name as BatchId, { ...plain, ...parts });
}

/** Somebody does something with a batch. */
export function does<T extends FactType>(
  world: AlertWorld,
  name: string,
  [type, body]: readonly [T, FactBodies[T]],
): void {
  const batchId = name as BatchId;
  const draft = { type, version: 1, at: minute(world.nowMin), by: 'AB', batchId, bayId: 'bay-1', body };
  keep(world, [draft as FactDraft]);
}

/** Somebody has seen an alert of the shop. */
export function see(world: AlertWorld, alertId: string): void {
  const place = { version: 1, at: minute(world.nowMin), by: 'AB', batchId: null, bayId: null } as const;
  keep(world, [{ ...place, type: 'AlertAcknowledged', body: { alertId } }]);
}

/** A sensor speaks. */
export function speak(world: AlertWorld, ...sensorIds: readonly string[]): void {
  for (const sensorId of sensorIds)
    world.sensors.set(sensorId, { sensorId, bayId: 'bay-1', heardAt: minute(world.nowMin), isRead: true });
}

/** Looks at everything now, as the middle does, and says what came of it in short: kind of fact and name of alert. */
export function look(world: AlertWorld): string[] {
  const before = world.facts.length;
  const nowAt = minute(world.nowMin);
  for (const [batchId, state] of world.batches) {
    const inputs = { card: BODY_FILLER, nowAt, alerts: ALERT_SETTINGS };
    keep(world, decideBatch(state, world.estimates.get(batchId) ?? null, inputs));
  }
  for (let roundIndex = 0; roundIndex < 3; roundIndex += 1) keep(world, ask(world).facts);
  if (ask(world).facts.length > 0) throw new Error('the shop does not settle');
  return world.facts.slice(before).flatMap((fact) => shortOf(fact));
}

/** Looks at every so many minutes until a minute, and says what came of it, each with its minute. */
export function lookUntil(world: AlertWorld, untilMin: number, everyMin = 0.5): string[] {
  const said: string[] = [];
  while (world.nowMin < untilMin) {
    world.nowMin = Math.min(untilMin, world.nowMin + everyMin);
    said.push(...look(world).map((line) => `${world.nowMin} ${line}`));
  }
  return said;
}

/** What the rules say now. */
export function ask(world: AlertWorld): ReturnType<typeof decideAlerts> {
  return decideAlerts({
    batches: openBatches(world),
    book: world.book,
    sensors: [...world.sensors.values()],
    nowAt: minute(world.nowMin),
    settings: ALERT_SETTINGS,
  });
}

/** Batches on which somebody still has something to do. */
export function openBatches({ batches }: AlertWorld): BatchState[] {
  return [...batches.values()].filter((state) => isOpen(state));
}

function keep(world: AlertWorld, drafts: readonly FactDraft[]): void {
  const added = placeDrafts(world.facts, drafts, minute(world.nowMin)).slice(world.facts.length);
  for (const fact of added) {
    world.facts.push(fact);
    if (isOfBook(fact)) world.book = evolveBook(world.book, fact);
    if (fact.batchId === null) continue;
    const state = world.batches.get(fact.batchId);
    world.batches.set(
      fact.batchId,
      state === undefined ? (foldBatch([fact]) as BatchState) : evolveBatch(state, fact),
    );
  }
}

function shortOf(fact: Fact): string[] {
  switch (fact.type) {
    case 'AlertRaised':
      return [`+ ${fact.body.alertId}${namesOf(fact.body.subjects)}`];
    case 'AlertSubjectsChanged':
      return [`~ ${fact.body.alertId}${namesOf(fact.body.subjects)}`];
    case 'AlertWithdrawn':
      return [`- ${fact.body.alertId}`];
    case 'SensorQuiet':
    case 'SensorSeen':
      return [`${fact.type} ${fact.body.sensorId}`];
    default:
      return [];
  }
}

function namesOf(subjects: FactBodies['AlertRaised']['subjects'] = []): string {
  return subjects.length === 0 ? '' : `: ${subjects.map((one) => one.batchId ?? one.sensorId).join(' ')}`;
}
