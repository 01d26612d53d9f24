// The list: filters, repair orders newest first, older ones on demand, and how good the estimates were beside it.
import { useCallback, useEffect, useState } from 'preact/hooks';
import type { RecordsWire } from '../../../server/contract/index.ts';
import { clearRecordsFilter, followLink, listRecords, printPage } from '../../actions/recordActs.ts';
import {
  $recordsFilter,
  countAsked,
  isSpanInOrder,
  type RecordsAnswer,
  tablePathOf,
} from '../../state/records.ts';
import { $words } from '../../state/sources.ts';
import { Estimates } from './Estimates.tsx';
import { RecordFilters } from './RecordFilters.tsx';
import { RecordGroup } from './RecordGroup.tsx';

type Shown = 'loading' | RecordsAnswer<RecordsWire>;

/** The list of records. */
export function RecordsList() {
  const { records } = $words.value;
  const filter = $recordsFilter.value;
  const { shown, isReading, read, readOlder } = useRecords();
  return (
    <div class="records">
      <header class="records-head">
        <h1>{records.title}</h1>
        <div class="records-tools">
          <button type="button" class="second" onClick={printPage}>
            {records.print}
          </button>
          <a class="button second" href={tablePathOf(filter)} download>
            {records.table}
          </a>
        </div>
      </header>
      <div class="records-main">
        <RecordFilters refused={shown !== 'loading' && shown.kind === 'refused' ? shown.error : null} />
        <p class="records-count" role="status">
          {shown === 'loading' || isReading ? records.loading : countText(shown, countAsked(filter))}
        </p>
        <List shown={shown} read={read} readOlder={readOlder} />
      </div>
      <Estimates />
    </div>
  );
}

function List(props: {
  readonly shown: Shown;
  readonly read: () => void;
  readonly readOlder: (before: string) => void;
}) {
  const { shown, read, readOlder } = props;
  const { records } = $words.value;
  if (shown === 'loading') return <div class="ghost" aria-hidden="true" />;
  if (shown.kind === 'refused') return null;
  if (shown.kind !== 'read') {
    return (
      <button type="button" class="second" onClick={read}>
        {records.again}
      </button>
    );
  }
  const { groups, nextBefore } = shown.body;
  if (groups.length === 0) return <Nothing />;
  return (
    <>
      <div class="records-groups">
        {groups.map((group) => (
          <RecordGroup key={group.repairOrder ?? `${group.panel} ${group.day}`} group={group} />
        ))}
      </div>
      {nextBefore === null ? null : (
        <button type="button" class="second records-older" onClick={() => readOlder(nextBefore)}>
          {records.older}
        </button>
      )}
    </>
  );
}

function Nothing() {
  const { records } = $words.value;
  const isFiltered = countAsked($recordsFilter.value) > 0;
  return (
    <div class="blank">
      <p class="blank-title">{isFiltered ? records.noMatch : records.empty}</p>
      <p>{isFiltered ? records.noMatchHint : records.emptyHint}</p>
      {isFiltered ? (
        <button type="button" class="second" onClick={clearRecordsFilter}>
          {records.clear}
        </button>
      ) : (
        <a class="button second" href="/bench" onClick={(event) => followLink(event, '/bench')}>
          {records.emptyAct}
        </a>
      )}
    </div>
  );
}

function countText(shown: RecordsAnswer<RecordsWire>, askedCount: number): string {
  const { records } = $words.value;
  if (shown.kind === 'refused') return '';
  if (shown.kind !== 'read') return records.failed;
  return askedCount > 0 ? records.matching(shown.body.batchCount) : records.count(shown.body.batchCount);
}

/** Reads the first page whenever the filter changes, and older pages behind it; a late answer to an old question is dropped. */
function useRecords() {
  const filter = $recordsFilter.value;
  const [shown, setShown] = useState<Shown>('loading');
  const [isReading, setReading] = useState(false);
  const read = useCallback(
    async (before: string | null): Promise<void> => {
      setReading(true);
      const answer = await listRecords(filter, before);
      if ($recordsFilter.peek() !== filter) return;
      setReading(false);
      setShown((newer) => (before === null ? answer : joined(newer, answer)));
    },
    [filter],
  );
  useEffect(() => {
    if (isSpanInOrder(filter)) void read(null);
  }, [filter, read]);
  return {
    shown,
    isReading,
    read: () => void read(null),
    readOlder: (before: string) => void read(before),
  };
}

function joined(newer: Shown, older: RecordsAnswer<RecordsWire>): Shown {
  if (newer === 'loading' || newer.kind !== 'read' || older.kind !== 'read') return older;
  const { batchCount, nextBefore, groups } = older.body;
  return { kind: 'read', body: { batchCount, nextBefore, groups: [...newer.body.groups, ...groups] } };
}
