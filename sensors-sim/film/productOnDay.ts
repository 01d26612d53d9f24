// Which formulation a tin holds: the name on it stays when the maker changes what is inside.
import type { ProductPlan } from '../scenarios/scenario.ts';

/** The product as it is mixed on a day of the play. */
export function productOnDay(product: ProductPlan, dayIndex: number): ProductPlan {
  const timeScale = product.changes
    .filter(({ fromDayIndex }) => fromDayIndex <= dayIndex)
    .reduce((scale, change) => scale * change.timeScale, 1);
  return {
    ...product,
    gelDoseMin: product.gelDoseMin * timeScale,
    sandDoseMin: product.sandDoseMin * timeScale,
  };
}
