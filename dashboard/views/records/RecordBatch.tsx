// One batch of the records: what it was, its window beside what really happened, and the whole record below.
import type { RecordWire } from '../../../server/contract/index.ts';
import { formatThickness } from '../../format/numbers.ts';
import { formatSaid } from '../../format/recordText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { StageShape } from '../shapes.tsx';
import { RecordBand } from './RecordBand.tsx';
import { RecordSheet } from './RecordSheet.tsx';

export interface RecordBatchProps {
  readonly record: RecordWire;
  /** Below the heading of the list's groups, or of the page. */
  readonly level: 'h2' | 'h3';
  /** In the list the whole record opens on demand. */
  readonly isFolded: boolean;
  /** The heading above says the panel already. */
  readonly isPanelSaid?: boolean;
}

/** The batch as an article. */
export function RecordBatch({ record, level: Heading, isFolded, isPanelSaid = false }: RecordBatchProps) {
  const words = $words.value;
  const place = $place.value;
  const product = words.records.made(record.cardName, formatThickness(record.thicknessMm, place));
  return (
    <article class="record" aria-labelledby={`record-${record.id}`}>
      <header class="record-head">
        <Heading id={`record-${record.id}`}>
          {isPanelSaid ? null : `${record.panel} `}
          <span class="record-made">{product}</span>
        </Heading>
        <p class="record-stage">
          <StageShape stage={record.stage} />
          {words.stage[record.stage]}
        </p>
      </header>
      <RecordBand record={record} />
      <p class="record-said">{formatSaid(record, words, place)}</p>
      {isFolded ? (
        <details class="record-whole">
          <summary>
            {words.records.whole}
            <span class="hidden">: {`${record.panel}, ${product}`}</span>
          </summary>
          <RecordSheet record={record} level="h4" />
        </details>
      ) : (
        <RecordSheet record={record} level="h3" />
      )}
    </article>
  );
}
