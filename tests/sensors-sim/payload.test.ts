import { describe, expect, it } from 'vitest';
import { payloadOf } from '../../sensors-sim/payload.ts';
import { at } from './playDay.ts';

const reading = {
  sensorId: 'booth-air',
  at: at('2026-01-12T07:00:30Z'),
  airTemperatureC: 21.4,
  relativeHumidityPct: 33.5,
};

describe('a reading on the wire', () => {
  it('is a plain object with its instant', () => {
    expect(JSON.parse(payloadOf(reading, 'plain'))).toEqual({
      at: '2026-01-12T07:00:30.000Z',
      airTemperatureC: 21.4,
      relativeHumidityPct: 33.5,
    });
  });

  it('is a SenML pack whose names and times resolve to the sensor and the instant', () => {
    expect(JSON.parse(payloadOf(reading, 'senml'))).toEqual([
      { bn: 'booth-air:', bt: 1_768_201_230, n: 'airTemperature', u: 'Cel', v: 21.4 },
      { n: 'relativeHumidity', u: '%RH', v: 33.5 },
    ]);
  });
});
