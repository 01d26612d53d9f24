// The rules that windows are held against, on batches whose scores can be counted by hand.
import { describe, expect, it } from 'vitest';
import { formatScores } from '../server/formatScores.ts';
import type { ReplayedBatch, WindowSaid } from '../server/replayScores.ts';
import { type RuleScore, scoreReplay } from '../server/scoreRules.ts';
import { MIXED_AT } from './support/domainFixtures.ts';

const window: WindowSaid = { p10Min: 18, p50Min: 20, p90Min: 23, testFromMin: 22 };

function batch(truthMin: number | null, more: Partial<ReplayedBatch> = {}): ReplayedBatch {
  return {
    label: 'b1',
    cardId: 'body-filler',
    mixedAt: MIXED_AT,
    truthMin,
    cardSandMin: 17.5,
    cardAtC: 20,
    airAtMixingC: 10,
    atMixing: window,
    atSpreading: window,
    atFirstCheck: null,
    firstCheckMin: null,
    testAlertMin: null,
    ...more,
  };
}

function rule(batches: readonly ReplayedBatch[], name: string): RuleScore {
  const found = scoreReplay(batches).rules.find((one) => one.name === name);
  if (found === undefined) throw new Error(`no rule "${name}"`);
  return found;
}

describe('rules', () => {
  it('lose as pinball says: the mean over P10, P50 and P90', () => {
    const { count, pinballMin, coveredShare } = rule([batch(21)], 'window at mixing');
    // 0.1 (21 − 18), 0.5 (21 − 20), 0.1 (23 − 21)
    expect(pinballMin).toBeCloseTo((0.3 + 0.5 + 0.2) / 3, 12);
    expect([count, coveredShare]).toEqual([1, 1]);
  });

  it('set a timer at the tin, and double it for each ten degrees less', () => {
    // A sure forecast loses half its error on average over 0.1, 0.5 and 0.9.
    expect(rule([batch(21.5)], 'fixed timer').pinballMin).toBeCloseTo(2, 12);
    expect(rule([batch(21.5)], 'fixed timer')).toMatchObject({ coveredShare: null });
    expect(rule([batch(37)], 'doubling rule').crpsMin).toBeCloseTo(2, 12);
    expect(rule([batch(37, { airAtMixingC: null })], 'doubling rule')).toMatchObject({
      count: 0,
      pinballMin: null,
    });
  });

  it('cannot be beaten by any other factor in hindsight', () => {
    const truths = [22, 25, 27, 30, 31, 36, 40, 44, 52];
    const hindsight = rule(
      truths.map((truthMin) => batch(truthMin)),
      'doubling rule, best window in hindsight',
    );
    for (const lateRatio of [0.9, 1, 1.1]) {
      const said = {
        p10Min: 24 * lateRatio,
        p50Min: 31 * lateRatio,
        p90Min: 44 * lateRatio,
        testFromMin: null,
      };
      const other = rule(
        truths.map((truthMin) => batch(truthMin, { atMixing: said })),
        'window at mixing',
      );
      expect(hindsight.pinballMin).toBeLessThanOrEqual((other.pinballMin ?? 0) + 1e-9);
    }
    expect(hindsight.coveredShare).toBeGreaterThan(0.7);
  });

  it('count a film that never was ready against the alert, and leave it out of the losses', () => {
    const never = batch(null, { testAlertMin: 30 });
    const { called, foretold, rules } = scoreReplay([never, batch(21, { testAlertMin: 22 })]);
    expect(called).toEqual({ count: 2, rightShare: 0.5 });
    expect(foretold).toEqual({ count: 2, rightShare: 0.5 });
    expect(rules.every(({ count }) => count <= 1)).toBe(true);
  });

  it('leave out windows with no end', () => {
    const open = batch(21, { atMixing: { ...window, p90Min: null } });
    expect(rule([open], 'window at mixing')).toMatchObject({ count: 0, crpsMin: null });
  });
});

describe('the table', () => {
  it('is empty without truth, and tells the later batches apart from the first forty', () => {
    expect(formatScores([])).toBe('');
    expect(formatScores([batch(21)])).not.toContain('without the first');
    const table = formatScores(Array.from({ length: 50 }, () => batch(21)));
    expect(table).toContain('50 batches with a true time');
    expect(table).toContain('without the first 40');
    expect(table).toMatch(/window at mixing +10 +0\.33 min .* 100\.0 %/);
  });
});
