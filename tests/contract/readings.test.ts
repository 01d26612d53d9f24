// Readings in every shape that a sensor may send them, and what is told of the ones that cannot be used.
import { describe, expect, it } from 'vitest';
import {
  instantFromIso,
  type Instant,
  LIMITS,
  parseReadings,
  READINGS_MAX,
  type ReadingsSource,
  type Rejection,
} from '../../server/contract/index.ts';

const NOW_AT = instantFromIso('2026-01-12T07:00:00Z') as Instant;
const NOW_S = NOW_AT / 1000;
const EARLIER = '2026-01-12T06:59:00Z';
const http: ReadingsSource = { format: 'plain', topicSensorId: null, nowAt: NOW_AT };
const httpSenml: ReadingsSource = { ...http, format: 'senml' };
const topic: ReadingsSource = { format: 'any', topicSensorId: 'bay-1-air', nowAt: NOW_AT };

/** The readings of a message that must be taken. */
function taken(input: unknown, source: ReadingsSource): unknown {
  const parsed = parseReadings(input, source);
  return parsed.kind === 'parsed' ? parsed.value : parsed.rejections;
}

/** What is told of a message that must be rejected, as rows of path, reason and what is allowed. */
function told(input: unknown, source: ReadingsSource): [string, string, string][] {
  const parsed = parseReadings(input, source);
  if (parsed.kind === 'parsed') throw new Error(`taken: ${JSON.stringify(parsed.value)}`);
  return parsed.rejections.map(({ path, reason, allowed }: Rejection) => [path, reason, allowed]);
}

const one = (more: object) => [{ index: 0, sensorId: 'bay-1-air', at: NOW_AT, ...more }];
const record = (more: object) => ({ bn: 'bay-1-air:', n: 'airTemperature', u: 'Cel', v: 12.1, ...more });

describe('plain readings', () => {
  it.each([
    ['one quantity', { sensorId: 'bay-1-air', airTemperatureC: 12.1 }, one({ airTemperatureC: 12.1 })],
    [
      'all quantities and a time',
      {
        sensorId: 'bay-1-air',
        at: EARLIER,
        airTemperatureC: 12.1,
        relativeHumidityPct: 55,
        panelTemperatureC: 10,
      },
      one({ at: NOW_AT - 60_000, airTemperatureC: 12.1, relativeHumidityPct: 55, panelTemperatureC: 10 }),
    ],
    [
      'a time in another zone',
      { sensorId: 'bay-1-air', at: '2026-01-12T08:59:00+02:00', airTemperatureC: 1 },
      one({ at: NOW_AT - 60_000, airTemperatureC: 1 }),
    ],
    ['zero', { sensorId: 'bay-1-air', airTemperatureC: 0 }, one({ airTemperatureC: 0 })],
    [
      'a list of sensors',
      [
        { sensorId: 'a', airTemperatureC: 1 },
        { sensorId: 'b', airTemperatureC: 2 },
      ],
      [
        { index: 0, sensorId: 'a', at: NOW_AT, airTemperatureC: 1 },
        { index: 1, sensorId: 'b', at: NOW_AT, airTemperatureC: 2 },
      ],
    ],
  ])('are taken with %s', (_, input, readings) => {
    expect(taken(input, http)).toEqual(readings);
  });

  it('need no sensor where the topic names it, and may name the same', () => {
    expect(taken({ airTemperatureC: 12.1 }, topic)).toEqual(one({ airTemperatureC: 12.1 }));
    expect(taken([{ sensorId: 'bay-1-air', airTemperatureC: 12.1 }], topic)).toEqual(
      one({ airTemperatureC: 12.1 }),
    );
  });

  it('come up to the most that one message may hold', () => {
    const many = Array.from({ length: READINGS_MAX }, () => ({ sensorId: 'a', airTemperatureC: 1 }));
    expect(taken(many, http)).toHaveLength(READINGS_MAX);
    expect(told([...many, ...many.slice(-1)], http)).toEqual([
      ['', 'holds 2001 readings', '1 … 2000 readings'],
    ]);
  });

  it.each([
    ['is empty', [], ['', 'holds 0 readings', '1 … 2000 readings']],
    ['is null', null, ['', 'is not an object', 'an object']],
    ['is a text', 'NaN', ['', 'is not an object', 'an object']],
    ['is a number', 12.1, ['', 'is not an object', 'an object']],
    ['is missing', undefined, ['', 'is missing', 'an object']],
    ['holds a number', [7], ['0', 'is not an object', 'an object']],
    ['holds a list', [[]], ['0', 'is not an object', 'an object']],
    ['names no sensor', { airTemperatureC: 1 }, ['sensorId', 'is missing', "the sensor's identifier"]],
    [
      'names a sensor with a space',
      { sensorId: 'bay 1', airTemperatureC: 1 },
      [
        'sensorId',
        'has a character that an identifier may not have',
        'letters, digits, - : . _ (first one a letter or digit)',
      ],
    ],
    [
      'has no quantity',
      { sensorId: 'a', at: EARLIER },
      [
        'airTemperatureC',
        'no measured quantity is there',
        'at least one of airTemperatureC, relativeHumidityPct, panelTemperatureC',
      ],
    ],
    [
      'has a field of its own',
      { sensorId: 'a', airTemperatureC: 1, batteryV: 3 },
      ['batteryV', 'is not a field of this body', 'leave it out'],
    ],
    [
      'says NaN as a text',
      { sensorId: 'a', airTemperatureC: 'NaN' },
      ['airTemperatureC', 'is not a number', '-40 … 60 °C'],
    ],
    [
      'says Infinity as a text',
      { sensorId: 'a', relativeHumidityPct: 'Infinity' },
      ['relativeHumidityPct', 'is not a number', '0 … 104 %'],
    ],
    [
      'holds no number',
      { sensorId: 'a', airTemperatureC: Number.NaN },
      ['airTemperatureC', 'is not a number', '-40 … 60 °C'],
    ],
    [
      'holds an infinite number',
      { sensorId: 'a', panelTemperatureC: Number.POSITIVE_INFINITY },
      ['panelTemperatureC', 'is not a number', '-40 … 120 °C'],
    ],
    [
      'has a time without a zone',
      { sensorId: 'a', at: '2026-01-12T07:00:00', airTemperatureC: 1 },
      ['at', 'has the wrong form', 'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z'],
    ],
    [
      'has a number as time',
      { sensorId: 'a', at: NOW_S, airTemperatureC: 1 },
      ['at', 'is not a text', 'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z'],
    ],
    [
      'has a wrong one among good ones',
      [{ sensorId: 'a', airTemperatureC: 1 }, { sensorId: 'a' }],
      [
        '1.airTemperatureC',
        'no measured quantity is there',
        'at least one of airTemperatureC, relativeHumidityPct, panelTemperatureC',
      ],
    ],
  ])('are rejected whole when the message %s', (_, input, row) => {
    expect(told(input, http)).toEqual([row]);
  });

  it('are rejected when they name another sensor than their topic', () => {
    expect(told([{ airTemperatureC: 1 }, { sensorId: 'bay-2-air', airTemperatureC: 1 }], topic)).toEqual([
      ['1.sensorId', "is not the topic's sensor", 'bay-1-air'],
    ]);
  });

  it('tell of every wrong field at once', () => {
    const input = [
      { sensorId: 'a', airTemperatureC: 61, relativeHumidityPct: -1 },
      { sensorId: 'a', hue: 1 },
      7,
    ];
    expect(told(input, http).map(([path, reason]) => `${path}: ${reason}`)).toEqual([
      '0.airTemperatureC: is too large',
      '0.relativeHumidityPct: is too small',
      '1.hue: is not a field of this body',
      '2: is not an object',
    ]);
  });
});

describe('limits', () => {
  const rows = [
    ['airTemperatureC', -40, 60, '-40 … 60 °C', 'airTemperature', 'Cel'],
    ['relativeHumidityPct', 0, 104, '0 … 104 %', 'relativeHumidity', '%RH'],
    ['panelTemperatureC', -40, 120, '-40 … 120 °C', 'panelTemperature', 'Cel'],
  ] as const;

  it.each(rows)('of %s take both ends, plain and by SenML', (field, min, max, _, n, u) => {
    expect(LIMITS[field]).toMatchObject({ min, max });
    const held = (measurement: number) =>
      one({ [field]: field === 'relativeHumidityPct' ? Math.min(measurement, 100) : measurement });
    for (const v of [min, max]) {
      expect(taken({ sensorId: 'bay-1-air', [field]: v }, http)).toEqual(held(v));
      expect(taken([record({ n, u, v })], httpSenml)).toEqual(held(v));
    }
  });

  it.each(rows)('of %s reject what lies beyond, with the bounds', (field, min, max, allowed, n, u) => {
    for (const [v, reason] of [
      [min - 0.001, 'is too small'],
      [max + 0.001, 'is too large'],
    ] as const) {
      expect(told({ sensorId: 'bay-1-air', [field]: v }, http)).toEqual([[field, reason, allowed]]);
      expect(told([record({ n, u, v })], httpSenml)).toEqual([['0.v', reason, allowed]]);
    }
  });

  it.each([100, 100.1, 102, 104])('count a humidity of %d as 100', (relativeHumidityPct) => {
    const readings = one({ relativeHumidityPct: 100 });
    expect(taken({ sensorId: 'bay-1-air', relativeHumidityPct }, http)).toEqual(readings);
    expect(taken([record({ n: 'rh', u: '%RH', v: relativeHumidityPct })], httpSenml)).toEqual(readings);
  });

  it('leave a humidity of 99.9 as it is', () => {
    expect(taken({ sensorId: 'bay-1-air', relativeHumidityPct: 99.9 }, http)).toEqual(
      one({ relativeHumidityPct: 99.9 }),
    );
  });
});

describe('SenML readings', () => {
  it.each([
    ['Cel', 'airTemperature', { airTemperatureC: 12.1 }],
    ['Cel', 't', { airTemperatureC: 12.1 }],
    ['Cel', 'panelTemperature', { panelTemperatureC: 12.1 }],
    ['Cel', 'left/panelTemperature', { panelTemperatureC: 12.1 }],
    ['Cel', 'panelTemperatureMean', { airTemperatureC: 12.1 }],
    ['%RH', 'panelTemperature', { relativeHumidityPct: 12.1 }],
  ])('take %s of %s by its unit', (u, n, more) => {
    expect(taken([record({ u, n })], httpSenml)).toEqual(one(more));
  });

  it.each([
    ['bay-1-air:', 'bay-1-air'],
    ['bay-1-air', 'bay-1-air'],
    ['zone:bay-1-air:', 'zone:bay-1-air'],
    ['urn:dev:ow:10e2073a01080063:', 'urn:dev:ow:10e2073a01080063'],
  ])('name their sensor by HTTP with the base name %s', (bn, sensorId) => {
    expect(taken([record({ bn })], httpSenml)).toEqual([
      { index: 0, sensorId, at: NOW_AT, airTemperatureC: 12.1 },
    ]);
  });

  it('let the topic name the sensor, whatever the base name says', () => {
    expect(taken([record({ bn: 'other/' })], topic)).toEqual(one({ airTemperatureC: 12.1 }));
    expect(taken([{ n: 'airTemperature', u: 'Cel', v: 12.1 }], topic)).toEqual(
      one({ airTemperatureC: 12.1 }),
    );
  });

  it('come in order of time, each with its place in the pack', () => {
    const pack = [record({ t: -10 }), { n: 'rh', u: '%RH', v: 50, t: -20.0004 }];
    expect(taken(pack, httpSenml)).toEqual([
      { index: 1, sensorId: 'bay-1-air', at: NOW_AT - 20_000, relativeHumidityPct: 50 },
      { index: 0, sensorId: 'bay-1-air', at: NOW_AT - 10_000, airTemperatureC: 12.1 },
    ]);
  });

  it('pass over a unit that is not used here beside a good record', () => {
    expect(taken([record({}), { n: 'battery', u: 'V', v: 3.1 }], httpSenml)).toEqual(
      one({ airTemperatureC: 12.1 }),
    );
  });

  it('are none where a pack sets nothing but its bases', () => {
    expect(taken([{ bn: 'bay-1-air:', bu: 'Cel' }], httpSenml)).toEqual([]);
  });

  it.each([
    ['a unit that is not used', [record({ u: 'V' })], ['0.u', 'is not a unit that is used here', 'Cel, %RH']],
    ['no unit', [{ bn: 'a:', n: 't', v: 1 }], ['0.u', 'unit is missing', 'Cel, %RH']],
    [
      'several units of others, by the first',
      [{ bn: 'a:' }, { n: 'b', u: 'V', v: 1 }, { n: 'c', u: 'lx', v: 1 }],
      ['1.u', 'is not a unit that is used here', 'Cel, %RH'],
    ],
    [
      'a text as value',
      [{ bn: 'a:', n: 't', u: 'Cel', vs: '12.1' }],
      ['0.v', 'is not a number', '-40 … 60 °C'],
    ],
    [
      'no base name',
      [{ n: 't', u: 'Cel', v: 1 }],
      ['0.bn', 'does not name a sensor', 'the identifier, then a colon'],
    ],
    [
      'a base name with a slash',
      [record({ bn: 'bay/1:' })],
      ['0.bn', 'does not name a sensor', 'the identifier, then a colon'],
    ],
    ['a time in milliseconds', [record({ t: NOW_AT })], ['0.t', 'is not a time', 'seconds']],
    ['a time that runs over', [record({ bt: 1e308, t: 1e308 })], ['0.t', 'is not a time', 'seconds']],
    ['a value that runs over', [record({ bv: 1e308, v: 1e308 })], ['0.v', 'is too large', '-40 … 60 °C']],
    ['a newer version', [record({ bver: 11 })], ['0.bver', 'unknown version', 'at most 10']],
    ['a value of the wrong type', [record({ v: '12.1' })], ['0.v', 'is not a number', 'a number']],
    ['an object in place of a pack', record({}), ['', 'is not a SenML pack', 'an array of records']],
    ['an empty pack', [], ['', 'holds 0 readings', '1 … 2000 readings']],
  ])('are rejected with %s', (_, pack, row) => {
    expect(told(pack, httpSenml)).toEqual([row]);
  });

  it('are rejected whole for one wrong record', () => {
    expect(told([record({}), { n: 't', u: 'Cel', v: 200 }, { n: 'b', u: 'V', v: 3 }], httpSenml)).toEqual([
      ['1.v', 'is too large', '-40 … 60 °C'],
    ]);
  });
});

describe('a message whose format nobody named', () => {
  it.each([
    ['a list with SenML labels', [record({})], one({ airTemperatureC: 12.1 })],
    ['a list of plain readings', [{ airTemperatureC: 12.1 }], one({ airTemperatureC: 12.1 })],
    ['a plain reading', { airTemperatureC: 12.1 }, one({ airTemperatureC: 12.1 })],
  ])('is read as %s', (_, input, readings) => {
    expect(taken(input, topic)).toEqual(readings);
  });

  it.each([
    ['null in a list', [null], ['0', 'is not an object', 'an object']],
    ['a text in a list', ['12.1'], ['0', 'is not an object', 'an object']],
    ['one SenML record', { n: 't', u: 'Cel', v: 1 }, ['n', 'is not a field of this body', 'leave it out']],
  ])('is read as plain with %s', (_, input, row) => {
    expect(told(input, topic)[0]).toEqual(row);
  });
});
