// The window's quantiles against ten thousand random members, over generated batches (design MODEL §5: within 2 %).
import { describe, expect, it } from 'vitest';
import { estimateWindow } from '../../server/engine/index.ts';
import { crowdQuantiles } from './bruteForce.ts';
import { countFor } from '../support/testSize.ts';
import { CROWDS_COUNT, crowdOf, CROWDS_SEED } from './crowdOf.ts';
import { bodyConstants, bodyFiller } from './samples.ts';

const MEMBERS_COUNT = 10_000;
const PROBABILITIES = [0.1, 0.5, 0.8, 0.9] as const;
/** Every fourth of them by day, all by night. */
const CASES_STEP = countFor({ usual: 4, nightly: 1 });
const cases = Array.from({ length: Math.ceil(CROWDS_COUNT / CASES_STEP) }, (_, index) => index * CASES_STEP);
const worst = { missRatio: 0, name: '' };

describe('a window against random members', () => {
  it.each(cases)('agrees within two per cent, batch %i', (index) => {
    const crowd = crowdOf(index);
    const window = estimateWindow({
      card: bodyFiller,
      constants: bodyConstants,
      job: crowd.job,
      prior: crowd.prior,
      checks: crowd.checks,
    });
    const theirs = crowdQuantiles(crowd, { count: MEMBERS_COUNT, seed: CROWDS_SEED + index }, PROBABILITIES);
    for (const [place, probability] of PROBABILITIES.entries()) {
      const ours = window.quantileMin(probability);
      const other = theirs[place] ?? null;
      if (ours === null || other === null) {
        // Both say "never", or one of them just about reaches the end of the twelve hours.
        expect(Math.max(ours ?? 720, other ?? 720)).toBeGreaterThan(650);
        continue;
      }
      const missRatio = Math.abs(ours / other - 1);
      if (missRatio > worst.missRatio) Object.assign(worst, { missRatio, name: `${index} P${probability}` });
      expect(missRatio, `P${probability}: ${ours.toFixed(2)} against ${other.toFixed(2)} min`).toBeLessThan(
        0.02,
      );
    }
    if (index === cases.at(-1)) {
      console.log(`${cases.length} windows, worst ${(worst.missRatio * 100).toFixed(2)} % (${worst.name})`);
    }
  });
});
