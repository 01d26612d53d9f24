import { describe, expect, it } from 'vitest';
import { productOnDay } from '../../../sensors-sim/film/productOnDay.ts';
import { changedProduct } from '../../../sensors-sim/scenarios/changedProduct.ts';
import type { ProductPlan } from '../../../sensors-sim/scenarios/scenario.ts';

const [filler] = changedProduct.products as [ProductPlan];
const twice = {
  ...filler,
  changes: [
    { fromDayIndex: 5, timeScale: 1.25 },
    { fromDayIndex: 9, timeScale: 0.8 },
  ],
};

describe('what a tin holds', () => {
  it('changes on its day and with every later change once more', () => {
    const scales = [-1, 4, 5, 8, 9].map(
      (dayIndex) => productOnDay(twice, dayIndex).sandDoseMin / filler.sandDoseMin,
    );
    expect(scales.map((scale) => Math.round(scale * 1e9) / 1e9)).toEqual([1, 1, 1.25, 1.25, 1]);
    expect(productOnDay(twice, 5).gelDoseMin / filler.gelDoseMin).toBeCloseTo(1.25, 12);
  });

  it('keeps its name and what people expect of it', () => {
    expect(productOnDay(twice, 5)).toMatchObject({ cardId: filler.cardId, tinMin: filler.tinMin });
  });
});
