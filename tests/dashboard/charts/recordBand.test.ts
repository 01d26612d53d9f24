// The window of before with what happened on its axis: marks in order, inside the picture, in the right place.
import { describe, expect, it } from 'vitest';
import { makeRecordBand, type RecordBand } from '../../../dashboard/charts/recordBand.ts';
import type { RecordWire } from '../../../server/contract/index.ts';
import { makeRecord, recordMinute } from '../../support/makeRecord.ts';

function bandOf(changes: Partial<RecordWire> = {}): RecordBand {
  const band = makeRecordBand(makeRecord(changes));
  if (band === null) throw new Error('this record has a window');
  return band;
}

describe('the band of a record', () => {
  it('has alert and checks as marks in order of time, on the axis of the window', () => {
    const { marks, band } = bandOf();
    expect(marks.map(({ kind }) => kind)).toEqual(['gums', 'alert', 'powders']);
    const minuteOf = (fraction: number): number => (fraction * (band.untilAt - band.fromAt)) / 60_000;
    expect(marks.map(({ fraction }) => Math.round(minuteOf(fraction) * 100) / 100)).toEqual([21, 26, 27]);
    expect(marks[0]?.fraction).toBeGreaterThan(band.p10Fraction);
    expect(marks[2]?.fraction).toBeLessThan(band.p90Fraction);
  });

  it('runs on to a late check', () => {
    const early = bandOf({ testAlertAt: null });
    const late = bandOf({
      testAlertAt: null,
      checks: [{ at: recordMinute(44), outcome: 'powders', firstTry: true, by: null }],
    });
    expect(late.band.untilAt).toBeGreaterThan(early.band.untilAt);
    expect(late.marks).toMatchObject([{ kind: 'powders', isBeyond: false }]);
  });

  it('holds a check of the next morning at its end and keeps the window large', () => {
    const { marks, band } = bandOf({
      testAlertAt: null,
      checks: [{ at: recordMinute(900), outcome: 'powders', firstTry: true, by: null }],
    });
    expect(marks).toMatchObject([{ fraction: 1, isBeyond: true }]);
    expect(band.p90Fraction - band.p10Fraction).toBeGreaterThan(0.2);
  });

  it('leaves out a call that came after everything', () => {
    const { marks } = bandOf({ testAlertAt: recordMinute(300) });
    expect(marks.map(({ kind }) => kind)).toEqual(['gums', 'powders']);
  });

  it('holds a check before mixing at its beginning', () => {
    const { marks } = bandOf({
      testAlertAt: null,
      checks: [{ at: recordMinute(-1), outcome: 'gums', firstTry: null, by: null }],
    });
    expect(marks).toMatchObject([{ fraction: 0 }]);
  });

  it('is none without a window', () => {
    const { window } = makeRecord();
    expect(makeRecordBand(makeRecord({ window: null }))).toBeNull();
    expect(
      makeRecordBand(makeRecord({ window: window === null ? null : { ...window, p90At: null } })),
    ).toBeNull();
  });
});
