// Sensors: those that nobody has placed on top, one tap a bay; the others with what they said last and how it is used.
import type { BayWire, SensorWire } from '../../../server/contract/index.ts';
import { hangSensor } from '../../actions/setupActs.ts';
import { formatDegrees, formatPct, formatTemperature } from '../../format/numbers.ts';
import { epochAt } from '../../format/phase.ts';
import { formatAge } from '../../format/setupText.ts';
import { $place } from '../../state/computed.ts';
import { $sensorList, $settings } from '../../state/setup.ts';
import { planSensor } from '../../state/setupPlans.ts';
import { $live, $words } from '../../state/sources.ts';
import { useClocked } from '../useClocked.ts';
import { ConnectPart } from './ConnectPart.tsx';
import { EntryEditor } from './EntryEditor.tsx';
import { SensorForm } from './SensorForm.tsx';

const MS_PER_MIN = 60_000;

/** The sensors, what could not be read, and how to connect one. */
export function SensorsPart() {
  const { setup } = $words.value;
  const list = $sensorList.value;
  if (list === 'loading') return <p role="status">{setup.loading}</p>;
  if (list === 'failed') return <p role="status">{setup.failed}</p>;
  const unknown = list.sensors.filter(({ bayId }) => bayId === null);
  const known = list.sensors.filter(({ bayId }) => bayId !== null);
  return (
    <>
      {list.sensors.length === 0 ? <p>{setup.sensors.none}</p> : null}
      {unknown.map((sensor) => (
        <UnknownSensor key={sensor.id} sensor={sensor} />
      ))}
      {known.length === 0 ? null : (
        <ul class="entries">
          {known.map((sensor) => (
            <SensorEntry key={sensor.id} sensor={sensor} />
          ))}
        </ul>
      )}
      <ConnectPart refused={list.refused} />
    </>
  );
}

function UnknownSensor({ sensor }: { readonly sensor: SensorWire }) {
  const { sensors: words, form } = $words.value.setup;
  const name = sensor.name ?? sensor.id;
  const bays = $live.value?.bays ?? [];
  const plan = planSensor(sensor);
  return (
    <div class="unknown">
      <h3>{words.unknownTitle(name)}</h3>
      <p class="unknown-values">
        <Values sensor={sensor} /> <LastSeen sensor={sensor} />
      </p>
      <p class="field-hint">{words.unknownHint}</p>
      {bays.length === 0 ? (
        <p>{words.noBays}</p>
      ) : (
        <div role="group" aria-label={words.where}>
          <p class="field-label">{words.where}</p>
          <div class="unknown-bays">
            {bays.map((bay) => (
              <button
                key={bay.id}
                type="button"
                class="first"
                aria-label={words.hangIn(name, bay.name)}
                onClick={() => hangSensor(sensor, bay.id)}
              >
                {bay.name}
              </button>
            ))}
          </div>
        </div>
      )}
      <div class="unknown-acts">
        <EntryEditor plan={plan} text={form.change} name={form.changeOf(name)}>
          <SensorForm sensor={sensor} plan={plan} />
        </EntryEditor>
      </div>
    </div>
  );
}

function SensorEntry({ sensor }: { readonly sensor: SensorWire }) {
  const { sensors: words, form } = $words.value.setup;
  const bay = $live.value?.bays.find(({ id }) => id === sensor.bayId);
  const name = sensor.name ?? sensor.id;
  const plan = planSensor(sensor);
  const trust = useClocked(sensor, trustOf);
  return (
    <li class="entry">
      <span class="entry-name">
        <b>{name}</b>
        {sensor.name === null ? null : <span class="entry-id">{sensor.id}</span>}
      </span>
      <span class="entry-fact">
        <span>{bay?.name ?? sensor.bayId}</span>
        <Values sensor={sensor} />
        <Offsets sensor={sensor} />
      </span>
      <span class="entry-fact entry-seen">
        <LastSeen sensor={sensor} />
        <span class="setup-badge" data-trust={trust}>
          {words.trust[trust]}
        </span>
      </span>
      <div class="entry-acts">
        <button
          type="button"
          class="quiet"
          aria-label={words.takeDownOf(name)}
          onClick={() => hangSensor(sensor, null)}
        >
          {words.takeDown}
        </button>
        <EntryEditor plan={plan} text={form.change} name={form.changeOf(name)}>
          <SensorForm sensor={sensor} plan={plan} />
        </EntryEditor>
      </div>
    </li>
  );
}

function Values({ sensor }: { readonly sensor: SensorWire }) {
  const place = $place.value;
  const { airTemperatureC, relativeHumidityPct, panelTemperatureC } = sensor.lastValues;
  const values = [airTemperatureC, panelTemperatureC]
    .flatMap((valueC) => (valueC === null ? [] : [formatTemperature(valueC, place)]))
    .concat(relativeHumidityPct === null ? [] : [formatPct(relativeHumidityPct, place.locale)]);
  return <b class="sensor-values">{values.join(', ')}</b>;
}

function Offsets({ sensor }: { readonly sensor: SensorWire }) {
  const { sensors: words } = $words.value.setup;
  const place = $place.value;
  const { airTemperatureOffsetK, relativeHumidityOffsetPct } = sensor;
  const offsets = [
    ...(airTemperatureOffsetK === 0 ? [] : [formatDegrees(airTemperatureOffsetK, place)]),
    ...(relativeHumidityOffsetPct === 0 ? [] : [formatPct(relativeHumidityOffsetPct, place.locale)]),
  ];
  return offsets.length === 0 ? null : <span>{words.offset(offsets.join(', '))}</span>;
}

function LastSeen({ sensor }: { readonly sensor: SensorWire }) {
  const { sensors: words } = $words.value.setup;
  const age = useClocked(sensor, ageOf);
  return (
    <span class="sensor-seen">
      {words.lastSeen}: {age ?? words.never}
    </span>
  );
}

/** Its bay's air may come from another sensor: one that is silent itself is not in use. */
function trustOf({ bayId, lastSeenAt }: SensorWire, nowAt: number): BayWire['trust'] {
  const seenAt = epochAt(lastSeenAt);
  const trust = $live.value?.bays.find(({ id }) => id === bayId)?.trust ?? 'none';
  if (seenAt === null || trust === 'none') return 'none';
  const settings = $settings.value;
  const quietMin = typeof settings === 'string' ? 0 : settings.alerts.sensorQuietMin;
  return nowAt - seenAt > quietMin * MS_PER_MIN ? 'stale' : trust;
}

function ageOf({ lastSeenAt }: SensorWire, nowAt: number): string | null {
  const seenAt = epochAt(lastSeenAt);
  return seenAt === null ? null : formatAge({ seenAt, nowAt }, $words.value);
}
