// All of one repair order on one page, in the order in which it was done; made to be printed.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { RepairOrderWire } from '../../../server/contract/index.ts';
import { followLink, openOrder, printPage } from '../../actions/recordActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { formatDay } from '../../format/recordText.ts';
import { $place } from '../../state/computed.ts';
import type { RecordsAnswer } from '../../state/records.ts';
import { $live, $words } from '../../state/sources.ts';
import { RecordBatch } from './RecordBatch.tsx';

/** The page of a repair order; its heading takes the focus, since it is a new page. */
export function OrderPage({ order }: { readonly order: string }) {
  const { records } = $words.value;
  const heading = useRef<HTMLHeadingElement>(null);
  const [answer, setAnswer] = useState<RecordsAnswer<RepairOrderWire> | 'loading'>('loading');
  const [turnCount, setTurnCount] = useState(0);
  useEffect(() => {
    void openOrder(order).then(setAnswer);
  }, [order, turnCount]);
  useEffect(() => heading.current?.focus(), [order]);
  return (
    <div class="order-page">
      <header class="records-head">
        <div>
          <a class="link" href="/records" onClick={(event) => followLink(event, '/records')}>
            {records.back}
          </a>
          <h1 ref={heading} tabIndex={-1}>
            {records.order(order)}
          </h1>
        </div>
        <div class="records-tools">
          <button type="button" class="second" onClick={printPage}>
            {records.print}
          </button>
        </div>
      </header>
      <Body order={order} answer={answer} readAgain={() => setTurnCount((count) => count + 1)} />
    </div>
  );
}

function Body(props: {
  readonly order: string;
  readonly answer: RecordsAnswer<RepairOrderWire> | 'loading';
  readonly readAgain: () => void;
}) {
  const { order, answer, readAgain } = props;
  const { records } = $words.value;
  if (answer === 'loading') return <p role="status">{records.loading}</p>;
  switch (answer.kind) {
    case 'read':
      return <Batches {...answer.body} />;
    case 'unknown':
      return (
        <p class="blank-title" role="status">
          {records.unknownOrder(order)}
        </p>
      );
    case 'refused':
    case 'failed':
      return (
        <>
          <p role="status">{records.failed}</p>
          <button type="button" class="second" onClick={readAgain}>
            {records.again}
          </button>
        </>
      );
  }
}

function Batches({ batches, promisedAt }: RepairOrderWire) {
  const { records } = $words.value;
  const place = $place.value;
  const [first] = batches;
  return (
    <>
      <p class="order-about">
        {[
          $live.value?.shop.name ?? '',
          records.count(batches.length),
          ...(first === undefined ? [] : [formatDay(Date.parse(first.mixedAt), place)]),
          ...(promisedAt === null ? [] : [records.promised(formatDayClock(Date.parse(promisedAt), place))]),
        ].join(' · ')}
      </p>
      <ol class="record-batches">
        {batches.map((record) => (
          <li key={record.id}>
            <RecordBatch record={record} level="h2" isFolded={false} />
          </li>
        ))}
      </ol>
      <p class="record-small">{$words.value.caution.decide}</p>
    </>
  );
}
