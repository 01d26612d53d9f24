// The honest figures: bins, the promise of the alert, Brier scores; counted by hand.
import { describe, expect, it } from 'vitest';
import type { FirstCheck } from '../../server/domain/facts.ts';
import { judgeReliability } from '../../server/domain/reliability.ts';

function check(
  probability: number | null,
  outcome: 'gums' | 'powders',
  more: Partial<FirstCheck> = {},
): FirstCheck {
  return { atMin: 20, outcome, probability, isCalled: true, timerMin: 17.5, doublingMin: 25, ...more };
}

describe('the honest figures', () => {
  it('count first tests by what was promised, certainty in the last bin', () => {
    const { batchCount, bins } = judgeReliability([
      check(0.05, 'gums'),
      check(0.85, 'powders'),
      check(0.95, 'gums'),
      check(1, 'powders'),
      check(null, 'powders'),
    ]);
    expect(batchCount).toBe(4);
    expect(bins.map(({ count, powderedCount }) => [count, powderedCount])).toEqual([
      [1, 0],
      [0, 0],
      [0, 0],
      [0, 0],
      [3, 2],
    ]);
    expect(bins[4]).toMatchObject({ fromProbability: 0.8, toProbability: 1 });
    expect(bins[4]?.meanProbability).toBeCloseTo((0.85 + 0.95 + 1) / 3, 12);
    expect(bins[1]).toMatchObject({ meanProbability: null, lowProbability: 0, highProbability: 1 });
  });

  it('bound the share that powders after an alert as Wilson does (SC-7: 8 of 10)', () => {
    const called = [
      ...Array.from({ length: 8 }, () => check(0.9, 'powders')),
      check(0.9, 'gums'),
      check(0.9, 'gums'),
    ];
    const early = check(0.3, 'gums', { isCalled: false });
    const { called: kept } = judgeReliability([...called, early]);
    expect(kept).toMatchObject({ count: 10, powderedCount: 8 });
    expect(kept.lowProbability).toBeCloseTo(0.490_162_47, 6);
    expect(kept.highProbability).toBeCloseTo(0.943_317_85, 6);
  });

  it('score windows, a timer and the doubling rule over the same tests', () => {
    const { brier } = judgeReliability([
      check(0.8, 'powders'),
      check(0.6, 'gums', { atMin: 10, doublingMin: 5 }),
      check(0.5, 'powders', { doublingMin: null }),
    ]);
    expect(brier.windowsScore).toBeCloseTo((0.04 + 0.36 + 0.25) / 3, 12);
    // The timer rang before 20 min, and not before 10: right each time.
    expect(brier.fixedTimerScore).toBe(0);
    // The rule said no at 20 min and yes at 10: wrong each time; the third has no rule.
    expect(brier.doublingRuleScore).toBe(1);
  });

  it('are empty for a shop that never tested', () => {
    expect(judgeReliability([])).toMatchObject({
      batchCount: 0,
      called: { count: 0, powderedCount: 0, lowProbability: 0, highProbability: 1 },
      brier: { windowsScore: null, fixedTimerScore: null, doublingRuleScore: null },
    });
  });
});
