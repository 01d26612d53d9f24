// The climate of a day or a week as a chart, with the same and the batches as tables.
import type { ComponentType } from 'preact';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { CostWire } from '../../../server/contract/index.ts';
import type { ClimateChartProps } from '../../charts/ClimateChart.tsx';
import { formatWhole } from '../../format/airText.ts';
import { formatClock, formatClockSpan, formatDayClock } from '../../format/clock.ts';
import {
  formatBareDegrees,
  formatBareTemperature,
  formatDegrees,
  formatPlain,
} from '../../format/numbers.ts';
import { temperatureUnit } from '../../format/units.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $device } from '../../state/device.ts';
import { $words } from '../../state/sources.ts';
import type { Place } from '../../format/clock.ts';
import { dateFormat } from '../../format/intl.ts';
import type { Words } from '../../format/words.en.ts';

type Chart = ComponentType<ClimateChartProps>;

/** Rows of the table at most. */
const TABLE_COUNT_MAX = 60;
/** Within this of the dew point nothing may be spread (design MODEL §6). */
const HOLD_K = 3;
const HOUR_MS = 60 * 60_000;
const DAY_MS = 24 * HOUR_MS;

/** Chart and tables; says so where nothing was measured. */
export function ClimatePart({ cost }: { readonly cost: CostWire }) {
  const { airScreen } = $words.value;
  const [found, setFound] = useState<{ readonly Chart: Chart } | null>(null);
  useEffect(() => {
    import('../../charts/ClimateChart.tsx').then(
      ({ ClimateChart }) => setFound({ Chart: ClimateChart }),
      () => undefined,
    );
  }, []);
  if (cost.readingMin === 0 && cost.batches.length === 0) return null;
  return (
    <section class="air-part air-climate">
      <h2>{airScreen.chartTitle}</h2>
      {cost.readingMin === 0 ? null : <Legend hasBatches={cost.batches.length > 0} />}
      {found === null || cost.readingMin === 0 ? null : <Drawn cost={cost} Chart={found.Chart} />}
      {cost.readingMin === 0 ? null : (
        <details>
          <summary>{airScreen.table}</summary>
          <ClimateTable cost={cost} />
        </details>
      )}
      {cost.batches.length === 0 ? null : (
        <details>
          <summary>{airScreen.batchTable}</summary>
          <BatchTable cost={cost} />
        </details>
      )}
    </section>
  );
}

function Legend({ hasBatches }: { readonly hasBatches: boolean }) {
  const texts = namesOf($words.value, $place.value);
  const entries = [
    'air',
    'panel',
    'distance',
    'hold',
    'humidity',
    ...(hasBatches ? (['open'] as const) : []),
  ] as const;
  return (
    <ul class="climate-legend">
      {entries.map((name) => (
        <li key={name} data-name={name}>
          {texts[name]}
        </li>
      ))}
    </ul>
  );
}

function Drawn({ cost, Chart }: { readonly cost: CostWire; readonly Chart: Chart }) {
  const words = $words.value;
  const { airScreen } = words;
  const place = $place.value;
  const [fromAt, untilAt] = [Date.parse(cost.fromAt), Date.parse(cost.toAt)];
  const isLong = untilAt - fromAt > 1.5 * DAY_MS;
  const names = useMemo(() => namesOf(words, place), [words, place]);
  const formatTick = useCallback(
    (instantAt: number) =>
      isLong
        ? dateFormat(place.locale, { weekday: 'short', timeZone: place.timeZone }).format(instantAt)
        : formatClock(instantAt, place),
    [place, isLong],
  );
  return (
    <Chart
      cost={cost}
      label={airScreen.chartLabel(namingOf('').bayName(cost.bayId))}
      names={names}
      units={place.units}
      formatTick={formatTick}
      fromAt={fromAt}
      untilAt={untilAt}
      tickEveryMs={isLong ? DAY_MS : untilAt - fromAt > 8 * HOUR_MS ? 3 * HOUR_MS : HOUR_MS}
      look={$device.value.look}
    />
  );
}

function ClimateTable({ cost: { climate } }: { readonly cost: CostWire }) {
  const words = $words.value;
  const { airScreen } = words;
  const place = $place.value;
  const stepCount = Math.ceil(climate.at.length / TABLE_COUNT_MAX);
  const names = namesOf(words, place);
  const text = (value: number | null | undefined, format: (value: number) => string): string =>
    value === null || value === undefined ? '–' : format(value);
  const temperature = (valueC: number): string => formatBareTemperature(valueC, place);
  const distance = (valueK: number): string => formatBareDegrees(valueK, place);
  const humidity = (valuePct: number): string => formatPlain(valuePct, place.locale);
  return (
    <div class="air-table">
      <table>
        <thead>
          <tr>
            {[airScreen.time, names.air, names.panel, names.distance, names.humidity].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {climate.at.map((at, index) =>
            index % stepCount === 0 ? (
              <tr key={at}>
                <th scope="row">{formatDayClock(Date.parse(at), place)}</th>
                <td>{text(climate.airTemperatureC[index], temperature)}</td>
                <td>{text(climate.panelTemperatureC[index], temperature)}</td>
                <td>{text(climate.dewDistanceK[index], distance)}</td>
                <td>{text(climate.relativeHumidityPct[index], humidity)}</td>
              </tr>
            ) : null,
          )}
        </tbody>
      </table>
    </div>
  );
}

/** What each line is called, with the reader's unit. */
function namesOf({ airScreen }: Words, place: Place): ClimateChartProps['names'] {
  const unit = temperatureUnit(place.units);
  return {
    air: airScreen.air(unit),
    panel: airScreen.panel(unit),
    humidity: airScreen.humidity,
    distance: airScreen.distance(unit),
    hold: airScreen.hold(formatDegrees(HOLD_K, place)),
    open: airScreen.open,
  };
}

function BatchTable({ cost: { batches } }: { readonly cost: CostWire }) {
  const { airScreen } = $words.value;
  const place = $place.value;
  return (
    <div class="air-table">
      <table>
        <thead>
          <tr>
            {[airScreen.batchPanel, airScreen.time, airScreen.batchAdded].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {batches.map(({ id, panel, mixedAt, untilAt, addedMin }) => {
            const span = { fromAt: Date.parse(mixedAt), untilAt: Date.parse(untilAt) };
            return (
              <tr key={id}>
                <th scope="row">{panel}</th>
                <td>
                  {formatDayClock(span.fromAt, place).slice(0, -CLOCK_COUNT)}
                  {formatClockSpan(span, place)}
                </td>
                <td>{addedMin === null ? '–' : formatWhole(addedMin, place.locale)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** Characters of a clock time: "07:05". */
const CLOCK_COUNT = 5;
