// The part of the suite that every air table passes.
import { expect, it } from 'vitest';
import type { AirRow, AirTable } from '../../../server/application/ports/airTable.ts';
import { minute, rowOf, spanOf, START_AT, valuesOf } from './ledgerFixtures.ts';
import { describeThin } from './thinSuite.ts';

const aside = (parts: Partial<AirRow>): AirRow => rowOf({ trust: 'aside', reason: 'contradicted', ...parts });

/** Runs the air table's part on an empty table each time. */
export function describeAir(air: () => AirTable): void {
  describeRecord(air);
  describeSpan(air);
  describeLatest(air);
  describeSensors(air);
  describeTrustKept(air);
  describeThin(air);
}

function describeRecord(air: () => AirTable): void {
  it('tells a new reading, a repeat and a contradiction apart, in the order given', async () => {
    const rows = [rowOf(), rowOf(), rowOf({ measurement: 13 }), rowOf({ quantity: 'panelTemperatureC' })];
    expect(await air().record(rows)).toEqual(['recorded', 'repeated', 'contradicted', 'recorded']);
    const again = [rowOf(), rowOf({ measurement: 13 }), rowOf({ measurement: 11 })];
    expect(await air().record(again)).toEqual(['repeated', 'repeated', 'contradicted']);
    expect(await air().record([])).toEqual([]);
  });

  it('keeps the value that was there first and sets the others aside', async () => {
    await air().record([rowOf()]);
    await air().record([rowOf({ measurement: 14 }), rowOf({ measurement: 11 }), rowOf({ measurement: 14 })]);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([
      rowOf(),
      aside({ measurement: 11 }),
      aside({ measurement: 14 }),
    ]);
  });

  it('keeps the trust of the first value when it comes again with another', async () => {
    await air().record([rowOf({ trust: 'aside', reason: 'late' })]);
    expect(await air().record([rowOf()])).toEqual(['repeated']);
    expect(await air().record([rowOf({ measurement: 9 })])).toEqual(['contradicted']);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([
      aside({ reason: 'late' }),
      aside({ measurement: 9 }),
    ]);
  });

  it('answers calls of one turn each for its own rows', async () => {
    const outcomes = await Promise.all([
      air().record([rowOf(), rowOf({ at: minute(1) })]),
      air().record([rowOf()]),
      air().record([rowOf({ measurement: 13 }), rowOf({ at: minute(2) })]),
      air().record([rowOf({ measurement: 13 })]),
    ]);
    expect(outcomes).toEqual([
      ['recorded', 'recorded'],
      ['repeated'],
      ['contradicted', 'recorded'],
      ['repeated'],
    ]);
  });

  it('takes the same instant of another sensor or quantity as another reading', async () => {
    const rows = [rowOf(), rowOf({ sensorId: 'bay-2-air' }), rowOf({ quantity: 'relativeHumidityPct' })];
    expect(await air().record(rows)).toEqual(['recorded', 'recorded', 'recorded']);
  });

  it('calls a measurement or instant that is none a fault, which harms no other call', async () => {
    const good = air().record([rowOf()]);
    const noNumber = air().record([rowOf({ at: minute(1) }), rowOf({ measurement: Number.NaN })]);
    await expect(noNumber).rejects.toThrow('measurement is NaN');
    await expect(air().record([rowOf({ at: minute(0.00001) })])).rejects.toThrow('not a whole number');
    expect(await good).toEqual(['recorded']);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([rowOf()]);
  });

  it('keeps copies: changing what was passed or read changes nothing kept', async () => {
    const passed = { ...rowOf() };
    const recording = air().record([passed]);
    Object.assign(passed, { measurement: 99 });
    await recording;
    Object.assign(passed, { measurement: 98 });
    const [read] = await air().readSpan(spanOf('bay-1-air'));
    Object.assign(read ?? {}, { measurement: 97 });
    const [latest] = await air().readLatest(['bay-1-air'], minute(1));
    Object.assign(latest ?? {}, { measurement: 96 });
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([rowOf()]);
  });

  it('gives every number back exactly', async () => {
    const measurements = [0.1 + 0.2, -40, 2.3e-16, 103.999_999_999_999_99, 0, 21];
    const rows = measurements.map((measurement, index) => rowOf({ at: minute(index), measurement }));
    await air().record(rows);
    expect(await air().readSpan(spanOf('bay-1-air'))).toStrictEqual(rows);
  });

  it('takes what no sensor tells from zero as zero', async () => {
    const rows = [0, -0, 1e-300, -1e-17].map((measurement) => rowOf({ measurement }));
    expect(await air().record(rows)).toEqual(['recorded', 'repeated', 'repeated', 'repeated']);
    expect(await air().readSpan(spanOf('bay-1-air'))).toStrictEqual([rowOf({ measurement: 0 })]);
  });
}

function describeSpan(air: () => AirTable): void {
  it('reads a span with both ends, in order of instant, then sensor, then quantity', async () => {
    const rows = [2, 0, 3, 1].flatMap((offsetMin) => [
      rowOf({ at: minute(offsetMin), sensorId: 's2', quantity: 'relativeHumidityPct' }),
      rowOf({ at: minute(offsetMin), sensorId: 's2' }),
      rowOf({ at: minute(offsetMin), sensorId: 's1', quantity: 'panelTemperatureC' }),
      rowOf({ at: minute(offsetMin), sensorId: 's3' }),
    ]);
    await air().record(rows);
    const span = { sensorIds: ['s2', 's1', 's2'], fromAt: minute(1), toAt: minute(2), goodOnly: false };
    const read = await air().readSpan(span);
    expect(read.map((row) => [row.at, row.sensorId, row.quantity])).toEqual([
      [minute(1), 's1', 'panelTemperatureC'],
      [minute(1), 's2', 'airTemperatureC'],
      [minute(1), 's2', 'relativeHumidityPct'],
      [minute(2), 's1', 'panelTemperatureC'],
      [minute(2), 's2', 'airTemperatureC'],
      [minute(2), 's2', 'relativeHumidityPct'],
    ]);
  });

  it('reads only good rows when asked', async () => {
    await air().record([
      rowOf(),
      rowOf({ measurement: 13 }),
      rowOf({ at: minute(1), trust: 'suspect', reason: 'step' }),
      rowOf({ at: minute(2), trust: 'aside', reason: 'unknown-sensor' }),
      rowOf({ at: minute(3) }),
    ]);
    const good = await air().readSpan({ ...spanOf('bay-1-air'), goodOnly: true });
    expect(good).toEqual([rowOf(), rowOf({ at: minute(3) })]);
    expect(await air().readSpan(spanOf('bay-1-air'))).toHaveLength(5);
  });

  it('reads nothing for no sensor, an unknown one or a span that ends before it begins', async () => {
    await air().record([rowOf()]);
    expect(await air().readSpan(spanOf())).toEqual([]);
    expect(await air().readSpan(spanOf('none'))).toEqual([]);
    const turned = { ...spanOf('bay-1-air'), fromAt: minute(1), toAt: minute(-1) };
    expect(await air().readSpan(turned)).toEqual([]);
  });
}

function describeLatest(air: () => AirTable): void {
  it('reads the newest good row of each quantity not after an instant', async () => {
    const rows = [0, 5, 10].flatMap((offsetMin) => [
      rowOf({ at: minute(offsetMin), measurement: offsetMin }),
      rowOf({ at: minute(offsetMin + 1), measurement: 50 + offsetMin, quantity: 'relativeHumidityPct' }),
      rowOf({ at: minute(offsetMin), measurement: 70 + offsetMin, sensorId: 's2' }),
    ]);
    await air().record(rows.toReversed());
    const latest = await air().readLatest(['s2', 'bay-1-air'], minute(10));
    expect(new Set(latest.map((row) => [row.sensorId, row.quantity, row.measurement]))).toEqual(
      new Set([
        ['bay-1-air', 'airTemperatureC', 10],
        ['bay-1-air', 'relativeHumidityPct', 55],
        ['s2', 'airTemperatureC', 80],
      ]),
    );
    expect(await air().readLatest(['bay-1-air'], minute(-1))).toEqual([]);
    expect(await air().readLatest(['none'], minute(10))).toEqual([]);
  });

  it('passes over rows that are not good', async () => {
    await air().record([
      rowOf(),
      rowOf({ at: minute(1), trust: 'suspect', reason: 'step' }),
      rowOf({ at: minute(2), trust: 'aside', reason: 'late' }),
      rowOf({ at: START_AT, measurement: 30 }),
      rowOf({ sensorId: 's2', trust: 'aside', reason: 'unknown-sensor' }),
    ]);
    expect(await air().readLatest(['bay-1-air', 's2'], minute(5))).toEqual([rowOf()]);
  });
}

function describeSensors(air: () => AirTable): void {
  it('lists every sensor that ever spoke in order of name, unknown ones too', async () => {
    await air().record([
      rowOf({ sensorId: 's2', at: minute(3), trust: 'aside', reason: 'unknown-sensor' }),
      rowOf({ sensorId: 's1', at: minute(1) }),
      rowOf({ sensorId: 's1', at: minute(2), quantity: 'relativeHumidityPct', measurement: 55 }),
    ]);
    expect(await air().readSensors()).toEqual([
      {
        sensorId: 's1',
        lastAt: minute(2),
        lastValues: valuesOf({ airTemperatureC: 12.1, relativeHumidityPct: 55 }),
      },
      { sensorId: 's2', lastAt: minute(3), lastValues: valuesOf({ airTemperatureC: 12.1 }) },
    ]);
  });

  it('shows the newest value by the instant of the sensor, not by arrival', async () => {
    await air().record([rowOf({ at: minute(5), measurement: 15 })]);
    await air().record([rowOf({ at: minute(2), measurement: 12 })]);
    await air().record([rowOf({ at: minute(5), measurement: 99 })]);
    await air().record([rowOf({ at: minute(6), measurement: 66, trust: 'suspect', reason: 'step' })]);
    expect(await air().readSensors()).toEqual([
      { sensorId: 'bay-1-air', lastAt: minute(5), lastValues: valuesOf({ airTemperatureC: 15 }) },
    ]);
  });

  it('lists a sensor that sent only suspect rows without a value', async () => {
    const suspect = { trust: 'suspect', reason: 'step' } as const;
    await air().record([rowOf({ at: minute(1), ...suspect }), rowOf({ at: minute(2), ...suspect })]);
    await air().record([rowOf({ at: minute(1), measurement: 3 })]);
    expect(await air().readSensors()).toEqual([
      { sensorId: 'bay-1-air', lastAt: minute(2), lastValues: valuesOf({}) },
    ]);
    await air().record([rowOf({ at: minute(0), measurement: 8 })]);
    expect(await air().readSensors()).toEqual([
      { sensorId: 'bay-1-air', lastAt: minute(0), lastValues: valuesOf({ airTemperatureC: 8 }) },
    ]);
  });
}

function describeTrustKept(air: () => AirTable): void {
  const unknown = (parts: Partial<AirRow> = {}): AirRow => aside({ reason: 'unknown-sensor', ...parts });

  it('takes rows of a sensor that was unknown as good, and leaves all others as they are', async () => {
    const rows = [
      unknown(),
      unknown({ at: minute(1), measurement: 13 }),
      aside({ at: minute(2), reason: 'late' }),
      rowOf({ at: minute(3), trust: 'suspect', reason: 'step' }),
    ];
    await air().record([...rows, unknown({ measurement: 14 })]);
    expect(await air().trustKept([])).toBe(0);
    expect(
      await air().trustKept([...rows.slice(1), unknown({ at: minute(9) }), unknown({ sensorId: 'no' })]),
    ).toBe(1);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([
      unknown(),
      aside({ measurement: 14 }),
      rowOf({ at: minute(1), measurement: 13 }),
      aside({ at: minute(2), reason: 'late' }),
      rowOf({ at: minute(3), trust: 'suspect', reason: 'step' }),
    ]);
    expect((await air().readLatest(['bay-1-air'], minute(9))).map((row) => row.measurement)).toEqual([13]);
    expect(await air().trustKept(rows)).toBe(1);
    expect(await air().trustKept(rows)).toBe(0);
    expect((await air().readLatest(['bay-1-air'], minute(0))).map((row) => row.measurement)).toEqual([
      rowOf().measurement,
    ]);
    expect((await air().readLatest(['bay-1-air'], minute(9))).map((row) => row.measurement)).toEqual([13]);
  });
}
