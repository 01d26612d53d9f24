// The whole record of a batch: mix, bay and air, times, tests, who, cautions, and why the window stood where it did.
import type { ComponentChildren } from 'preact';
import type { RecordWire } from '../../../server/contract/index.ts';
import { formatDose, formatPct, formatTemperature, formatThickness } from '../../format/numbers.ts';
import { formatCheck, formatRecordReason, formatSince } from '../../format/recordText.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { RecordTimes } from './RecordTimes.tsx';

type Level = 'h3' | 'h4';

/** The parts of the record, side by side where there is room. */
export function RecordSheet({ record, level }: { readonly record: RecordWire; readonly level: Level }) {
  const { part } = $words.value.records;
  const reason = formatRecordReason(record, namingOf(record.cardId));
  return (
    <div class="record-sheet">
      <Part level={level} title={part.mix}>
        <MixLines record={record} />
      </Part>
      <Part level={level} title={part.air}>
        <AirLines record={record} />
      </Part>
      <Part level={level} title={part.times}>
        <RecordTimes record={record} />
      </Part>
      <Part level={level} title={part.checks}>
        <CheckLines record={record} />
      </Part>
      {reason === null ? null : (
        <Part level={level} title={part.window}>
          <p>{reason}.</p>
        </Part>
      )}
      <Part level={level} title={part.people}>
        <PeopleLines record={record} />
      </Part>
      <Part level={level} title={part.cautions}>
        <CautionLines record={record} />
      </Part>
    </div>
  );
}

function Part(props: {
  readonly level: Level;
  readonly title: string;
  readonly children: ComponentChildren;
}) {
  const { level: Heading, title, children } = props;
  return (
    <section class="record-part">
      <Heading>{title}</Heading>
      {children}
    </section>
  );
}

function MixLines({ record }: { readonly record: RecordWire }) {
  const { records, mix } = $words.value;
  const place = $place.value;
  const clock = (at: string): string => formatSince({ at, mixedAt: record.mixedAt }, place);
  return (
    <ul>
      <li>{records.made(record.cardName, formatThickness(record.thicknessMm, place))}</li>
      <li>{records.mix.hardener(formatDose(record.hardenerPct, place.locale), record.weighed)}</li>
      <li>
        {mix.substrates[record.substrate]},{' '}
        {record.underlayMm === 0
          ? records.mix.noUnderlay
          : records.mix.underlay(formatThickness(record.underlayMm, place))}
      </li>
      {record.lamps.map(({ fromAt, untilAt, lampId }) => (
        <li key={`${lampId} ${fromAt}`}>{records.mix.lamp(clock(fromAt), clock(untilAt))}</li>
      ))}
    </ul>
  );
}

function AirLines({ record: { stays, air, mixedAt } }: { readonly record: RecordWire }) {
  const { air: texts } = $words.value.records;
  const place = $place.value;
  const temperature = (valueC: number): string => formatTemperature(valueC, place);
  const { mixingC, whileCuringMinC, whileCuringMaxC, humidityMixingPct } = air;
  const humidity = humidityMixingPct === null ? null : formatPct(humidityMixingPct, place.locale);
  const [first, ...later] = stays;
  return (
    <ul>
      <li>
        {[
          ...(first === undefined ? [] : [first.bayName]),
          ...later.map(({ bayName, fromAt }) =>
            texts.moved(bayName, formatSince({ at: fromAt, mixedAt }, place)),
          ),
        ].join(', ')}
      </li>
      {mixingC === null ? null : <li>{texts.mixing(temperature(mixingC), humidity)}</li>}
      {whileCuringMinC === null || whileCuringMaxC === null ? (
        <li>{texts.none}</li>
      ) : (
        <li>{texts.curing(temperature(whileCuringMinC), temperature(whileCuringMaxC))}</li>
      )}
    </ul>
  );
}

function CheckLines({ record: { checks, mixedAt } }: { readonly record: RecordWire }) {
  const words = $words.value;
  const place = $place.value;
  if (checks.length === 0) return <p>{words.records.checks.none}</p>;
  return (
    <ul>
      {checks.map((check) => (
        <li key={check.at}>{formatCheck(check, { mixedAt, words, place })}</li>
      ))}
    </ul>
  );
}

function PeopleLines({ record: { by } }: { readonly record: RecordWire }) {
  const { people } = $words.value.records;
  const signed = [
    [people.mixed, by.mixed],
    [people.spread, by.spread],
    [people.closed, by.closed],
  ] as const;
  const known = signed.filter(([, initials]) => initials !== null);
  if (known.length === 0) return <p>{by.everyone.length === 0 ? people.nobody : by.everyone.join(', ')}</p>;
  return (
    <dl>
      {known.map(([name, initials]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{initials}</dd>
        </div>
      ))}
    </dl>
  );
}

function CautionLines({ record: { cautions, mixedAt } }: { readonly record: RecordWire }) {
  const { records, caution } = $words.value;
  return (
    <>
      <p>
        {records.cautions(formatSince({ at: cautions.acknowledgedAt, mixedAt }, $place.value), cautions.by)}
      </p>
      <p class="record-small">{caution.short}</p>
    </>
  );
}
