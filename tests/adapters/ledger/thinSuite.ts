// The part of the suite about old readings: what stays of ten minutes, and what is never touched.
import { expect, it } from 'vitest';
import type { AirRow, AirTable } from '../../../server/application/ports/airTable.ts';
import { THIN_ROWS_MAX } from '../../../server/adapters/ledger/thinRows.ts';
import type { Instant } from '../../../server/contract/index.ts';
import { minute, rowOf, spanOf, START_AT } from './ledgerFixtures.ts';

const FAR_MIN = 6000;

/** Thins all that lies before an instant and says how much went, and in how many steps. */
export async function thinAll(
  air: AirTable,
  beforeAt: Instant,
): Promise<{ removedCount: number; stepCount: number }> {
  let removedCount = 0;
  for (let stepCount = 0; ; stepCount += 1) {
    const step = await air.thin(beforeAt);
    removedCount += step.removedCount;
    if (step.isDone) return { removedCount, stepCount };
  }
}

/** A reading of today, so that all before it is old. */
const today = (): AirRow => rowOf({ at: minute(FAR_MIN), measurement: 20 });

/** Runs the part on an empty table each time. */
export function describeThin(air: () => AirTable): void {
  it('makes ten minutes into their mean at the place of a reading near their middle, and marks it', async () => {
    const rows = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((offsetMin) =>
      rowOf({ at: minute(offsetMin), measurement: 10 + offsetMin }),
    );
    await air().record([...rows, rowOf({ at: minute(10), measurement: 3 }), today()]);
    expect(await thinAll(air(), minute(20))).toMatchObject({ removedCount: 9 });
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([
      { ...(rows[5] as AirRow), measurement: 14.5, reason: 'mean' },
      rowOf({ at: minute(10), measurement: 3 }),
      today(),
    ]);
    expect(await air().readLatest(['bay-1-air'], minute(9))).toMatchObject([{ measurement: 14.5 }]);
  });

  it('does each series for itself, and nothing twice', async () => {
    const rows = (['airTemperatureC', 'relativeHumidityPct'] as const).flatMap((quantity) =>
      ['bay-1-air', 's2'].flatMap((sensorId) =>
        [1, 2, 3].map((offsetMin) =>
          rowOf({ sensorId, quantity, at: minute(offsetMin), measurement: offsetMin }),
        ),
      ),
    );
    const newest = rows
      .filter(({ at }) => at === minute(1))
      .map((row) => ({ ...row, at: minute(FAR_MIN), recordedAt: minute(FAR_MIN) }));
    await air().record([...rows, ...newest]);
    expect((await thinAll(air(), minute(30))).removedCount).toBe(8);
    const before = await air().readSpan(spanOf('bay-1-air', 's2'));
    expect(before.filter(({ reason }) => reason === 'mean').map((row) => [row.at, row.measurement])).toEqual(
      Array.from({ length: 4 }, () => [minute(3), 2]),
    );
    expect(await thinAll(air(), minute(30))).toEqual({ removedCount: 0, stepCount: 0 });
    expect(await air().readSpan(spanOf('bay-1-air', 's2'))).toEqual(before);
  });

  it('leaves what is not old, ten minutes that are not over, and the newest of a silent sensor', async () => {
    const recent = [21, 22, 29].map((offsetMin) => rowOf({ at: minute(offsetMin) }));
    await air().record([...recent, today()]);
    const silent = [1, 2, 11, 12].map((offsetMin) =>
      rowOf({ sensorId: 's2', at: minute(offsetMin), measurement: offsetMin }),
    );
    await air().record(silent);
    const seen = await air().readSensors();
    // A minute too soon for the span that ends with it.
    expect((await thinAll(air(), minute(29))).removedCount).toBe(1);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([...recent, today()]);
    expect((await air().readSpan(spanOf('s2'))).map(({ at }) => at)).toEqual([2, 11, 12].map(minute));
    expect((await thinAll(air(), minute(FAR_MIN))).removedCount).toBe(2);
    expect((await air().readSpan(spanOf('s2'))).map(({ at }) => at)).toEqual([2, 11, 12].map(minute));
    expect(await air().readSensors()).toEqual(seen);
  });

  it('counts no doubted reading into a mean, and keeps the last doubted one of its kind as it was said', async () => {
    const doubted = [1, 2, 3].map((offsetMin) =>
      rowOf({ at: minute(offsetMin), measurement: 50 + offsetMin, trust: 'suspect', reason: 'step' }),
    );
    const late = [2.5, 3.5].map((offsetMin) =>
      rowOf({ at: minute(offsetMin), measurement: -9, trust: 'aside', reason: 'late' }),
    );
    const good = [4, 6].map((offsetMin) => rowOf({ at: minute(offsetMin), measurement: offsetMin }));
    await air().record([...doubted, ...late, ...good, today()]);
    expect((await thinAll(air(), minute(10))).removedCount).toBe(4);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([
      doubted[2],
      late[1],
      { ...(good[0] as AirRow), measurement: 5, reason: 'mean' },
      today(),
    ]);
  });

  it('leaves one reading in ten minutes as it is, unmarked', async () => {
    await air().record([rowOf(), today()]);
    expect((await thinAll(air(), minute(10))).removedCount).toBe(0);
    expect(await air().readSpan(spanOf('bay-1-air'))).toEqual([rowOf(), today()]);
  });

  it('takes what is told again about a thinned instant as a contradiction, and keeps the mean', async () => {
    await air().record([
      rowOf({ at: minute(5), measurement: 10 }),
      rowOf({ at: minute(7), measurement: 12 }),
      today(),
    ]);
    await thinAll(air(), minute(10));
    expect(await air().record([rowOf({ at: minute(5), measurement: 10 })])).toEqual(['contradicted']);
    expect(await air().readLatest(['bay-1-air'], minute(9))).toMatchObject([
      { measurement: 11, reason: 'mean' },
    ]);
  });

  it('goes on in small steps, also through a sensor that speaks more often than one step takes', async () => {
    const rows = Array.from({ length: 1300 }, (_, index) =>
      rowOf({ at: (START_AT + index * 400) as Instant, measurement: index % 2 }),
    );
    await air().record([...rows, today()]);
    let stepCount = 0;
    for (let step = await air().thin(minute(10)); !step.isDone; step = await air().thin(minute(10))) {
      expect(step.removedCount).toBeLessThan(THIN_ROWS_MAX);
      stepCount += 1;
    }
    // Several means in ten minutes then, each of as many readings as a step takes.
    expect(stepCount).toBe(Math.ceil(rows.length / THIN_ROWS_MAX));
    const left = await air().readSpan(spanOf('bay-1-air'));
    expect(left.map(({ reason, measurement }) => [reason, measurement])).toEqual([
      ...Array.from({ length: stepCount }, () => ['mean', 0.5]),
      [null, 20],
    ]);
  });
}
