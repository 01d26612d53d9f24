// Records as they are read: found in the batch views, told from each batch's own facts and from the air it met.
import {
  isoFromInstantOrNull,
  type RecordsWire,
  type RecordWire,
  type RepairOrderWire,
} from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import { makeDayReader } from '../domain/localDay.ts';
import { recordFrom } from '../domain/record.ts';
import { airOfRecord, curedUntil } from '../domain/recordAir.ts';
import {
  groupRecords,
  isAskedFor,
  newestFirst,
  pageGroups,
  type RecordFilter,
  type RecordGroup,
  type RecordNames,
  wasStarted,
} from '../domain/recordGroups.ts';
import { readHistory } from './appendFacts.ts';
import { presentRecord } from './presentRecord.ts';
import type { RecordsQuestion } from './ports/doors.ts';
import { readRecordAir } from './readRecordAir.ts';
import type { Shop } from './shop.ts';

/** A page of records by repair order, else by panel and day, newest first. */
export async function readRecords(shop: Shop, question: RecordsQuestion): Promise<RecordsWire> {
  const names = namesOf(shop);
  const asked = (await readStates(shop)).filter((state) => isAskedFor(state, question.filter, names));
  const { groups, nextBeforeAt } = pageGroups(groupRecords(asked, names), question);
  const tell = makeTeller(shop, names);
  const told: RecordsWire['groups'] = [];
  for (const group of groups) told.push(await tellGroup(group, tell));
  return { batchCount: asked.length, groups: told, nextBefore: isoFromInstantOrNull(nextBeforeAt) };
}

/** One repair order with all its batches; null when no batch was ever mixed for it. */
export async function readRepairOrder(shop: Shop, repairOrder: string): Promise<RepairOrderWire | null> {
  const own = (await readStates(shop)).filter((state) => state.repairOrder === repairOrder);
  if (own.length === 0) return null;
  const tell = makeTeller(shop, namesOf(shop));
  const newest = newestFirst(own);
  const promisedAt = newest.find((state) => state.promisedAt !== null)?.promisedAt ?? null;
  return {
    repairOrder,
    promisedAt: isoFromInstantOrNull(promisedAt),
    batches: await tellAll(newest.toReversed(), tell),
  };
}

/** Every record that was asked for, newest first, one by one: a year of them must not stand in memory. */
export async function* readRecordRows(shop: Shop, filter: RecordFilter): AsyncGenerator<RecordWire> {
  const names = namesOf(shop);
  const tell = makeTeller(shop, names);
  const asked = (await readStates(shop)).filter((state) => isAskedFor(state, filter, names));
  for (const state of newestFirst(asked)) {
    const record = await tell(state);
    if (record !== null) yield record;
    // People's taps go first.
    await shop.clock.breathe();
  }
}

type Teller = (state: BatchState) => Promise<RecordWire | null>;

async function readStates(shop: Shop): Promise<BatchState[]> {
  const views = await shop.ledger.readViews('batch', { openOnly: false });
  return views.map(({ body }) => body as BatchState).filter((state) => wasStarted(state));
}

function namesOf(shop: Shop): RecordNames {
  const { bays, timeZone } = shop.facts;
  return {
    // A product or bay that the settings know no more keeps its identifier.
    cardName: (cardId) => shop.cards.get(cardId)?.name ?? cardId,
    bayName: (bayId) => bays.find(({ id }) => id === bayId)?.name ?? bayId,
    dayOf: makeDayReader(timeZone),
  };
}

function makeTeller(shop: Shop, names: RecordNames): Teller {
  return async function tell({ id }) {
    const { facts } = await readHistory(shop, id);
    const record = recordFrom(facts);
    // Its start was undone since the views were read.
    if (record === null) return null;
    const untilAt = curedUntil(record.state, shop.clock.nowAt());
    const air = airOfRecord(record.state, await readRecordAir(shop, record.state, untilAt), untilAt);
    return presentRecord(record, air, names);
  };
}

async function tellGroup(group: RecordGroup, tell: Teller): Promise<RecordsWire['groups'][number]> {
  const { repairOrder, panel, day, states } = group;
  return { repairOrder, panel, day, batches: await tellAll(states, tell) };
}

async function tellAll(states: readonly BatchState[], tell: Teller): Promise<RecordWire[]> {
  const told: RecordWire[] = [];
  for (const state of states) {
    const record = await tell(state);
    if (record !== null) told.push(record);
  }
  return told;
}
