// Setup: the sensors with their last message, what could not be read, what was learned, and how to connect a sensor.
import { useEffect, useState } from 'preact/hooks';
import type { RefusedPayload, SensorWire } from '../../../server/contract/index.ts';
import { listSensors } from '../../actions/deviceActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { formatPct, formatTemperature } from '../../format/numbers.ts';
import { epochAt } from '../../format/phase.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { LearnedPart } from './LearnedPart.tsx';
import './setup.css';

interface SensorList {
  readonly sensors: readonly SensorWire[];
  readonly refused: readonly RefusedPayload[];
}

/** The Setup screen. */
export function SetupScreen() {
  const { screen, setup } = $words.value;
  const [list, setList] = useState<SensorList | 'loading' | 'failed'>('loading');
  const read = (): void => {
    void listSensors().then((found) => setList(found ?? 'failed'));
  };
  useEffect(read, []);
  return (
    <div class="setup">
      <h1>{screen.setup}</h1>
      <div class="setup-heard">
        <section class="setup-part">
          <div class="setup-head">
            <h2>{setup.title}</h2>
            <button type="button" class="second" onClick={read}>
              {setup.again}
            </button>
          </div>
          {list === 'loading' ? (
            <p role="status">{setup.loading}</p>
          ) : list === 'failed' ? (
            <p role="status">{setup.failed}</p>
          ) : (
            <Sensors sensors={list.sensors} />
          )}
        </section>
        {typeof list === 'string' ? null : <Refused refused={list.refused} />}
        <LearnedPart />
      </div>
      <section class="setup-part setup-connect">
        <h2>{setup.connectTitle}</h2>
        <ol>
          {setup.connect.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </section>
    </div>
  );
}

function Sensors({ sensors }: { readonly sensors: readonly SensorWire[] }) {
  const { setup } = $words.value;
  if (sensors.length === 0) return <p>{setup.none}</p>;
  const unknownFirst = [...sensors].sort((a, b) => Number(a.bayId !== null) - Number(b.bayId !== null));
  return (
    <ul class="sensors">
      {unknownFirst.map((sensor) => (
        <SensorLine key={sensor.id} sensor={sensor} />
      ))}
    </ul>
  );
}

function SensorLine({ sensor }: { readonly sensor: SensorWire }) {
  const { setup } = $words.value;
  const place = $place.value;
  const seenAt = epochAt(sensor.lastSeenAt);
  const { airTemperatureC, relativeHumidityPct, panelTemperatureC } = sensor.lastValues;
  const values = [airTemperatureC, panelTemperatureC]
    .flatMap((valueC) => (valueC === null ? [] : [formatTemperature(valueC, place)]))
    .concat(relativeHumidityPct === null ? [] : [formatPct(relativeHumidityPct, place.locale)]);
  return (
    <li class="sensor" data-known={sensor.bayId !== null}>
      <b>{sensor.id}</b>
      <span>{sensor.bayId === null ? setup.unknown : namingOf('').bayName(sensor.bayId)}</span>
      <span class="sensor-values">{values.join(', ')}</span>
      <span class="sensor-seen">
        {setup.lastSeen}: {seenAt === null ? setup.never : formatDayClock(seenAt, place)}
      </span>
    </li>
  );
}

function Refused({ refused }: { readonly refused: readonly RefusedPayload[] }) {
  const { setup } = $words.value;
  return (
    <section class="setup-part">
      <h2>{setup.refused}</h2>
      {refused.length === 0 ? <p>{setup.refusedNone}</p> : null}
      <ul class="sensors">
        {refused.map(({ at, topic, reason, excerpt }) => (
          <li class="sensor" data-known={false} key={`${at}${topic}${excerpt}`}>
            <b>{topic}</b>
            <span>{reason}</span>
            <code>{excerpt}</code>
            <span class="sensor-seen">{formatDayClock(Date.parse(at), $place.value)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
