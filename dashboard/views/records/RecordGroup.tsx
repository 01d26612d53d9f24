// One repair order of the list, or one panel of a day without one, with its batches.
import type { RecordsWire } from '../../../server/contract/index.ts';
import { followLink } from '../../actions/recordActs.ts';
import { formatDay } from '../../format/recordText.ts';
import { $place } from '../../state/computed.ts';
import { pathOfOrder } from '../../state/records.ts';
import { $words } from '../../state/sources.ts';
import { RecordBatch } from './RecordBatch.tsx';

/** The group under its heading. */
export function RecordGroup({ group }: { readonly group: RecordsWire['groups'][number] }) {
  const { records } = $words.value;
  const { repairOrder, panel, batches } = group;
  const newest = batches[0];
  if (newest === undefined) return null;
  return (
    <section class="record-group">
      <header class="record-group-head">
        <h2>
          {repairOrder === null ? (
            panel
          ) : (
            <a
              href={pathOfOrder(repairOrder)}
              aria-label={records.openOrder(repairOrder)}
              onClick={(event) => followLink(event, pathOfOrder(repairOrder))}
            >
              {records.order(repairOrder)}
            </a>
          )}
        </h2>
        <p>
          {repairOrder === null ? `${records.noOrder} · ` : ''}
          {formatDay(Date.parse(newest.mixedAt), $place.value)}
        </p>
      </header>
      <ol class="record-batches">
        {batches.map((record) => (
          <li key={record.id}>
            <RecordBatch record={record} level="h3" isFolded isPanelSaid={repairOrder === null} />
          </li>
        ))}
      </ol>
    </section>
  );
}
