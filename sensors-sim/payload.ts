// How a reading looks on the wire: as a plain object, or as a SenML pack (RFC 8428) from a sensor that speaks it.
import { isoFromInstant } from '../server/contract/index.ts';
import type { Reading } from './air/sensor.ts';
import type { SensorPlan } from './scenarios/scenario.ts';

/** The payload of one message. */
export function payloadOf(reading: Reading, format: SensorPlan['format']): string {
  const { sensorId, at, airTemperatureC, relativeHumidityPct } = reading;
  switch (format) {
    case 'plain':
      return JSON.stringify({ at: isoFromInstant(at), airTemperatureC, relativeHumidityPct });
    case 'senml':
      return JSON.stringify([
        { bn: `${sensorId}:`, bt: at / 1000, n: 'airTemperature', u: 'Cel', v: airTemperatureC },
        { n: 'relativeHumidity', u: '%RH', v: relativeHumidityPct },
      ]);
  }
}
