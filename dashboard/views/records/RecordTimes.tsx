// The times of a record in the order in which they came, the window among them.
import type { RecordWire } from '../../../server/contract/index.ts';
import { formatDayClock } from '../../format/clock.ts';
import { formatSince } from '../../format/recordText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

/** Terms and times; what never was is left out. */
export function RecordTimes({ record }: { readonly record: RecordWire }) {
  const { times } = $words.value.records;
  const place = $place.value;
  const since = (at: string): string => formatSince({ at, mixedAt: record.mixedAt }, place);
  const { p10At = null, p50At = null, p90At = null } = record.window ?? {};
  const closed = record.stage === 'scrapped' ? times.scrapped : times.sanded;
  return (
    <dl>
      <Time name={times.mixed} text={formatDayClock(Date.parse(record.mixedAt), place)} />
      <Time name={times.spread} text={textOf(record.spreadAt, since)} />
      {p10At === null || p50At === null || p90At === null ? null : (
        <Time
          name={`${times.window} (${times.windowHint})`}
          text={times.windowText(since(p10At), since(p50At), since(p90At))}
        />
      )}
      <Time name={times.alert} text={textOf(record.testAlertAt, since)} />
      <Time name={times.sanding} text={textOf(record.sandingAt, since)} />
      <Time name={closed} text={textOf(record.closedAt, since)} />
    </dl>
  );
}

function textOf(at: string | null, since: (at: string) => string): string | null {
  return at === null ? null : since(at);
}

function Time({ name, text }: { readonly name: string; readonly text: string | null }) {
  if (text === null) return null;
  return (
    <div>
      <dt>{name}</dt>
      <dd>{text}</dd>
    </div>
  );
}
