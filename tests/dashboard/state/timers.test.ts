// Plain timers: what is typed, what is kept, when they are due, and where they stand in the stack.
import { describe, expect, it } from 'vitest';
import { formatTimer, formatTimerText, passedFraction } from '../../../dashboard/format/timerText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { orderStack } from '../../../dashboard/state/stack.ts';
import {
  dueTimers,
  extended,
  parseTimers,
  type PlainTimer,
  timerMistakesOf,
  timerOf,
  timersOf,
  withTimer,
} from '../../../dashboard/state/timers.ts';
import { makeBatch, minutesIn, MIXED_AT } from '../fixtures.ts';

const at = (afterMin: number): number => MIXED_AT + afterMin * 60_000;
const timer = timerOf(
  { name: ' Primer ', minutes: '15' },
  { id: 't1', ledgerId: 'ledger-1', nowAt: MIXED_AT },
);

describe('what is typed', () => {
  it.each([
    [{ name: 'Primer', minutes: '15' }, []],
    [{ name: 'Primer', minutes: '7,5' }, []],
    [{ name: '  ', minutes: '15' }, ['name missing']],
    [{ name: 'Primer', minutes: 'ten' }, ['forMin notNumber']],
    [{ name: 'Primer', minutes: '' }, ['forMin notNumber']],
    [{ name: 'Primer', minutes: '0.5' }, ['forMin tooSmall']],
    [{ name: '', minutes: '721' }, ['name missing', 'forMin tooLarge']],
  ])('%j is judged field by field', (draft, mistakes) => {
    expect(timerMistakesOf(draft).map(({ path, kind }) => `${path} ${kind}`)).toEqual(mistakes);
  });

  it('becomes a timer of so many minutes', () => {
    expect(timer).toMatchObject({ name: 'Primer', startedAt: at(0), endsAt: at(15), isRung: false });
  });
});

describe('five minutes more', () => {
  it('come after its end, and after now where that has passed', () => {
    expect(extended(timer, at(3)).endsAt).toBe(at(20));
    const rung = { ...timer, isRung: true };
    expect(extended(rung, at(18))).toMatchObject({ endsAt: at(23), isRung: false });
  });
});

describe('the timers of a device', () => {
  it('are due once they end, and rung for once', () => {
    expect(dueTimers([timer], at(14.9))).toEqual([]);
    expect(dueTimers([timer], at(15))).toEqual([timer]);
    expect(dueTimers([{ ...timer, isRung: true }], at(16))).toEqual([]);
  });

  it('come back from their stored text', () => {
    expect(parseTimers(JSON.stringify([timer]))).toEqual([timer]);
  });

  it.each([null, '', '{', '7', '[null, {"id": "t"}, {"id": 1}]'])(
    'are none for the stored text %s',
    (text) => {
      expect(parseTimers(text)).toEqual([]);
    },
  );

  it('are shown in the shop that they were started in, and forgotten after half a day', () => {
    const ids = (ledgerId: string, afterMin: number): string[] =>
      timersOf([timer], { ledgerId, nowAt: at(afterMin) }).map(({ id }) => id);
    expect(ids('ledger-1', 15 + 719)).toEqual(['t1']);
    expect(ids('ledger-1', 15 + 721)).toEqual([]);
    expect(ids('ledger-2', 5)).toEqual([]);
  });

  it('change one by one, and go back to what they were', () => {
    const other = { ...timer, id: 't2' };
    const longer = withTimer([timer, other], 't1', extended(timer, at(1)));
    expect(longer.map(({ id, endsAt }) => [id, endsAt])).toEqual([
      ['t2', at(15)],
      ['t1', at(20)],
    ]);
    expect(withTimer(longer, 't1', timer)).toEqual([other, timer]);
    expect(withTimer(longer, 't1', null)).toEqual([other]);
  });
});

describe('a timer in the stack', () => {
  const names = (timers: readonly PlainTimer[], afterMin: number): string[] =>
    orderStack([spread, sanding], timers, at(afterMin)).map((entry) =>
      entry.kind === 'batch' ? entry.batch.panel : entry.timer.name,
    );
  const spread = makeBatch({ spreadAt: minutesIn(2), stage: 'kicked' });
  const sanding = makeBatch({ id: 'b2', panel: 'Roof', stage: 'sanding', sandingAt: minutesIn(1) });

  it('stands where its end comes, before what is being sanded', () => {
    // The test of the door is due at minute 30.
    expect(names([timer], 5)).toEqual(['Primer', 'Left front door', 'Roof']);
    expect(names([{ ...timer, endsAt: at(31) }], 5)).toEqual(['Left front door', 'Primer', 'Roof']);
  });

  it('comes to the top when it has ended', () => {
    expect(names([{ ...timer, endsAt: at(4) }], 5)).toEqual(['Primer', 'Left front door', 'Roof']);
  });
});

describe('what a timer says', () => {
  const said = (afterMin: number): string => {
    const { lead, figure, tail } = formatTimer(timer, { words: wordsEn, nowAt: at(afterMin) });
    return [lead, figure, tail].join('|');
  };

  it('is the time left to the second, never more than it was started with', () => {
    expect(said(-0.02)).toBe('ends in|15:00|');
    expect(said(10.5)).toBe('ends in|4:30|');
    expect(formatTimerText(timer, { words: wordsEn, nowAt: at(10.5) })).toBe('ends in 4:30');
  });

  it('is how long it has been up', () => {
    expect(said(15)).toBe('|Time is up|just now');
    expect(said(18.2)).toBe('|Time is up|for 3 min');
  });

  it('fills its rule from start to end', () => {
    expect([-1, 0, 7.5, 15, 20].map((afterMin) => passedFraction(timer, at(afterMin)))).toEqual([
      0, 0, 0.5, 1, 1,
    ]);
    expect(passedFraction({ startedAt: 5, endsAt: 5 }, 5)).toBe(1);
  });
});
