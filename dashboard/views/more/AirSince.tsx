// The air of the batch's bay since mixing, as a chart and as a table; chart.js comes only when this is opened.
import type { ComponentType } from 'preact';
import { useCallback, useMemo, useState } from 'preact/hooks';
import type { AirColumnsWire, BatchWire } from '../../../server/contract/index.ts';
import { airSinceMixing } from '../../actions/deviceActs.ts';
import type { AirChartProps } from '../../charts/AirChart.tsx';
import { formatClock } from '../../format/clock.ts';
import { formatBareTemperature, formatPlain } from '../../format/numbers.ts';
import { temperatureUnit } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

type Chart = ComponentType<AirChartProps>;
type Shown = 'closed' | 'loading' | 'none' | { readonly columns: AirColumnsWire; readonly AirChart: Chart };

/** Rows of the table at most. */
const TABLE_COUNT_MAX = 60;

/** Opens and loads on demand. */
export function AirSince({ batch }: { readonly batch: BatchWire }) {
  const { more } = $words.value;
  const [shown, setShown] = useState<Shown>('closed');
  const open = async (): Promise<void> => {
    setShown('loading');
    const [columns, chunk] = await Promise.all([
      airSinceMixing(batch),
      import('../../charts/AirChart.tsx').catch(() => null),
    ]);
    const isEmpty = columns === null || columns.at.length === 0 || chunk === null;
    setShown(isEmpty ? 'none' : { columns, AirChart: chunk.AirChart });
  };
  return (
    <section class="more-part">
      <h3>{more.air}</h3>
      {shown === 'closed' ? (
        <button type="button" class="second" onClick={() => void open()}>
          {more.airShow}
        </button>
      ) : shown === 'loading' ? (
        <p role="status">{more.airLoading}</p>
      ) : shown === 'none' ? (
        <p role="status">{more.airNone}</p>
      ) : (
        <Air columns={shown.columns} Chart={shown.AirChart} />
      )}
    </section>
  );
}

function Air({ columns, Chart }: { readonly columns: AirColumnsWire; readonly Chart: Chart }) {
  const { more } = $words.value;
  const place = $place.value;
  const { units } = place;
  const names = useMemo(
    () => ({
      air: more.airTemperature(temperatureUnit(units)),
      panel: more.panelTemperature(temperatureUnit(units)),
      humidity: more.airHumidity,
    }),
    [more, units],
  );
  const formatTick = useCallback((instantAt: number) => formatClock(instantAt, place), [place]);
  return (
    <>
      <Chart columns={columns} label={more.air} names={names} units={units} formatTick={formatTick} />
      <details>
        <summary>{more.airTable}</summary>
        <AirTable columns={columns} />
      </details>
    </>
  );
}

function AirTable({ columns }: { readonly columns: AirColumnsWire }) {
  const { more } = $words.value;
  const place = $place.value;
  const stepCount = Math.ceil(columns.at.length / TABLE_COUNT_MAX);
  const text = (value: number | null | undefined, format: (value: number) => string): string =>
    value === null || value === undefined ? '–' : format(value);
  const temperature = (valueC: number): string => formatBareTemperature(valueC, place);
  const humidity = (valuePct: number): string => formatPlain(Math.round(valuePct * 10) / 10, place.locale);
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{more.airTime}</th>
          <th scope="col">{more.airTemperature(temperatureUnit(place.units))}</th>
          <th scope="col">{more.airHumidity}</th>
        </tr>
      </thead>
      <tbody>
        {columns.at.map((at, index) =>
          index % stepCount === 0 ? (
            <tr key={at}>
              <th scope="row">{formatClock(Date.parse(at), place)}</th>
              <td>{text(columns.airTemperatureC[index], temperature)}</td>
              <td>{text(columns.relativeHumidityPct[index], humidity)}</td>
            </tr>
          ) : null,
        )}
      </tbody>
    </table>
  );
}
