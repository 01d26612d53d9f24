// What is kept of a batch: the window of before the first check against what happened, undone acts left out.
import { describe, expect, it } from 'vitest';
import { recordFrom, type BatchRecord } from '../../server/domain/record.ts';
import {
  estimated,
  fact,
  minute,
  NO_TIMES,
  place,
  type Placeable,
  started,
} from '../support/domainFixtures.ts';
import type { Sequence } from '../../server/domain/facts.ts';

function recordOf(...placeables: Placeable[]): BatchRecord {
  const record = recordFrom(place(placeables));
  if (record === null) throw new Error('these facts make a record');
  return record;
}

const check = (
  afterMin: number,
  outcome: 'gums' | 'powders',
  more: { by?: string; recordedMin?: number } = {},
): Placeable => fact('CheckRecorded', afterMin, { outcome, firstTry: null }, more);

describe('the record of a batch', () => {
  it('holds the window that stood before the first check, not the one it brought about', () => {
    const { window, said } = recordOf(
      started(),
      estimated(1, 'wet'),
      check(20, 'gums'),
      estimated(20, 'kicked', { p10At: minute(26), p50At: minute(30), p90At: minute(36) }),
      check(31, 'powders'),
      fact('SandingStarted', 31, {}),
    );
    expect(window?.p50At).toBe(minute(20));
    expect(said).toMatchObject({ firstCheckAt: minute(20), outcome: 'gums', powderedAt: minute(31) });
    expect(said?.probability).toBeCloseTo(0.5, 6);
    expect(said?.afterP50Min).toBe(11);
  });

  it.each([
    [15, 'early', -5],
    [16, 'inside', -4],
    [25, 'inside', 5],
    [26, 'late', 6],
  ] as const)('says of a film that powders after %i min that this is %s', (afterMin, where, afterP50Min) => {
    const { said } = recordOf(started(), estimated(1, 'wet'), check(afterMin, 'powders'));
    expect(said).toMatchObject({ place: where, afterP50Min });
  });

  it('knows no place where there was no window, or nothing powdered', () => {
    expect(recordOf(started(), check(20, 'powders')).said).toMatchObject({
      probability: null,
      afterP50Min: null,
      place: null,
    });
    expect(recordOf(started(), estimated(1, 'wet', NO_TIMES), check(20, 'powders')).said).toMatchObject({
      probability: null,
      place: null,
    });
    expect(recordOf(started(), estimated(1, 'wet'), check(20, 'gums')).said).toMatchObject({
      powderedAt: null,
      afterP50Min: null,
      place: null,
    });
  });

  it('of a batch that nobody has tested holds the newest window', () => {
    const { window, said } = recordOf(started(), estimated(1, 'wet'), estimated(5, 'wet', { cardMin: 7 }));
    expect(window?.cardMin).toBe(7);
    expect(said).toBeNull();
  });

  it('leaves out a check that was undone, and puts those dated back in order of time', () => {
    const undo = fact('FactUndone', 13, { factSequence: 3 as Sequence });
    const { state, said } = recordOf(
      started(),
      estimated(1, 'wet'),
      check(12, 'gums'),
      undo,
      check(24, 'powders'),
      check(18, 'gums', { recordedMin: 25 }),
    );
    expect(said?.firstCheckAt).toBe(minute(24));
    expect(state.checks.map(({ at }) => at)).toEqual([minute(18), minute(24)]);
  });

  it('names everyone once, who spread and who closed it, and when the cautions were acknowledged', () => {
    const record = recordOf(
      fact('BatchStarted', 0, started().draft.body as never, { by: 'AB', recordedMin: 2 }),
      fact('BatchSpread', 3, {}, { by: 'CD' }),
      fact('AlertRaised', 22, { alertId: 'a', kind: 'test' }),
      check(23, 'powders', { by: 'AB' }),
      fact('SandingStarted', 23, {}, { by: 'AB' }),
      fact('BatchSanded', 40, {}, { by: 'EF' }),
    );
    expect(record).toMatchObject({
      initials: ['AB', 'CD', 'EF'],
      spreadBy: 'CD',
      closedBy: 'EF',
      testAlertAt: minute(22),
      cautions: { acknowledgedAt: minute(2), by: 'AB' },
    });
  });

  it('of a batch that nobody signed names nobody', () => {
    const bare = recordOf(
      fact('BatchStarted', 0, started().draft.body as never),
      fact('BatchSpread', 3, {}),
      fact('BatchScrapped', 5, {}),
    );
    expect(bare).toMatchObject({ initials: [], spreadBy: null, closedBy: null, testAlertAt: null });
    expect(recordOf(started())).toMatchObject({ spreadBy: null, closedBy: null });
  });

  it('is none without facts, and none of a batch whose start was undone', () => {
    expect(recordFrom([])).toBeNull();
    expect(recordFrom(place([started(), fact('FactUndone', 1, { factSequence: 1 as Sequence })]))).toBeNull();
  });
});
