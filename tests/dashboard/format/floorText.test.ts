// Floor's sentences: slack, danger, help, the minute of need, a film in words.
import { describe, expect, it } from 'vitest';
import {
  describeFilm,
  formatDanger,
  formatDuration,
  formatHelp,
  formatLikely,
  formatNeedTime,
  formatSlack,
  type PlanNaming,
} from '../../../dashboard/format/floorText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import type { PlanEntryWire } from '../../../server/contract/index.ts';
import { makeBatch, minutesIn, MIXED_AT } from '../fixtures.ts';

const place = { locale: 'en-GB', timeZone: 'UTC', units: METRIC };
const naming: PlanNaming = {
  words: wordsEn,
  place,
  bayName: (id) => (id === 'bay-2' ? 'Bay 2' : id),
  lampName: (id) => (id === 'lamp-1' ? 'Short-wave lamp' : id),
  panelName: (id) => ({ a: 'Bonnet', b: 'Roof' })[id] ?? id,
};

function entry(changes: Partial<PlanEntryWire> = {}): PlanEntryWire {
  return {
    batchId: 'batch-1',
    panel: 'Left front door',
    repairOrder: null,
    bayId: 'bay-2',
    by: 'MK',
    stage: 'kicked',
    need: 'test',
    needAt: minutesIn(30),
    promisedAt: minutesIn(120),
    remainingWorkMin: 60,
    doneP50At: minutesIn(85),
    doneP90At: minutesIn(93),
    slackMin: 35,
    slackP90Min: 27,
    danger: null,
    ...changes,
  };
}

const danger = (kind: 'late' | 'tight' | 'hands', byMin: number): PlanEntryWire =>
  entry({ danger: { kind, byMin, help: [] } });

describe('durations and slack', () => {
  it('are told in minutes below an hour and in hours above', () => {
    expect([0.4, 35, 59.6, 60, 130].map((durationMin) => formatDuration(durationMin, wordsEn))).toEqual([
      '0 min',
      '35 min',
      '1 h',
      '1 h',
      '2 h 10 min',
    ]);
  });

  it('say what is spare, what may be late and what is late', () => {
    expect(formatSlack(entry(), wordsEn)).toEqual({ text: '35 min spare', tone: 'spare' });
    expect(formatSlack(danger('tight', 3), wordsEn)).toEqual({ text: 'maybe 3 min late', tone: 'soon' });
    expect(formatSlack(danger('late', 12), wordsEn)).toEqual({ text: '12 min late', tone: 'stop' });
    expect(formatSlack(danger('hands', 0.2), wordsEn)).toEqual({ text: '1 min late', tone: 'stop' });
    expect(formatSlack(entry({ slackMin: null }), wordsEn)).toBeNull();
  });
});

describe('a promise in danger', () => {
  it.each([
    ['late', '12 min too late for 09:00'],
    ['tight', 'May be 12 min too late for 09:00'],
    ['hands', '12 min too late for 09:00 if MK does it all'],
  ] as const)('is explained: %s', (kind, sentence) => {
    expect(formatDanger(danger(kind, 12), naming)).toBe(sentence);
  });

  it('has nothing to explain when there is none', () => {
    expect(formatDanger(entry(), naming)).toBeNull();
    expect(formatDanger({ ...danger('late', 5), promisedAt: null }, naming)).toBeNull();
  });

  it.each([
    [{ kind: 'lamp', gainMin: 12.4, lampId: 'lamp-1' }, 'Short-wave lamp: done 12 min sooner'],
    [
      { kind: 'lamp', gainMin: 12.4, lampId: 'lamp-1', distanceCm: 90 },
      'Short-wave lamp at 90 cm: done 12 min sooner',
    ],
    [{ kind: 'warmBay', gainMin: 8, bayId: 'bay-2' }, 'Bay 2 is warmer: done 8 min sooner'],
    [
      { kind: 'hands', gainMin: 40, batchIds: ['a', 'b'] },
      'More hands, Bonnet and Roof need them too: done 40 min sooner',
    ],
    [
      { kind: 'hands', gainMin: 0, batchIds: ['a', 'b', 'c', 'd'] },
      'More hands, Bonnet, Roof and 2 more need someone in the same minutes',
    ],
    [{ kind: 'hands', gainMin: 0, batchIds: ['a'] }, 'More hands, Bonnet needs someone in the same minutes'],
  ] as const)('is helped by what the plan found', (help, line) => {
    const { batchIds, ...rest } = { batchIds: undefined, ...help };
    expect(formatHelp(batchIds === undefined ? rest : { ...rest, batchIds: [...batchIds] }, naming)).toBe(
      line,
    );
  });
});

describe('the minute of need', () => {
  const at = (nowMin: number, changes: Partial<PlanEntryWire> = {}): string | null =>
    formatNeedTime(entry(changes), MIXED_AT + nowMin * 60_000, wordsEn);

  it('counts down, is now, and counts what waits', () => {
    expect([at(26), at(29.5), at(30), at(33)]).toEqual(['in 4 min', 'in 1 min', 'now', 'now']);
    expect([at(30.5, { need: 'waiting' }), at(46, { need: 'waiting' })]).toEqual(['now', 'waiting 16 min']);
    expect(at(20, { needAt: null })).toBeNull();
  });
});

describe('a film in words', () => {
  it('tells what the drawing shows', () => {
    const batch = makeBatch({
      stage: 'kicked',
      promisedAt: minutesIn(120),
      checks: [{ at: minutesIn(18), outcome: 'gums', firstTry: null, by: null }],
    });
    expect(describeFilm(batch, entry(), { words: wordsEn, place })).toBe(
      'mixed 07:00; test likely 07:20–07:33; build 07:20, edge 07:25; gummed 07:18; promised 09:00; done about 08:25',
    );
    expect(describeFilm(makeBatch({ estimate: null }), undefined, { words: wordsEn, place })).toBe(
      'mixed 07:00',
    );
    expect(formatLikely(makeBatch({ stage: 'sanding' }), wordsEn, place)).toBeNull();
  });
});
