// Calibration: whatever a card may say, its film meets it, or the card is turned down with a reason.
import { describe, expect, it } from 'vitest';
import { calibrateCard, type CardStatement, judgeCard, solveFilm } from '../../server/engine/index.ts';
import { recalibrate } from '../../server/engine/calibrateCard.ts';
import { bodyFiller, constantsOf, plainJob } from './samples.ts';

/** Every combination of these, 1,600 cards. */
const sweep: CardStatement[] = [2, 5, 9, 15].flatMap((workingMin) =>
  [8, 14, 25, 40, 60].flatMap((sandMin) =>
    [5, 12, 20, 28, 35].flatMap((atC) =>
      [0.3, 1, 3, 6].flatMap((thicknessMm) =>
        [40, 46, 54, 60].map((activationKJPerMol) => ({
          ...bodyFiller,
          workingMin,
          sandMin,
          atC,
          thicknessMm,
          activationKJPerMol,
        })),
      ),
    ),
  ),
);

/** The card's own film. */
function solveCard(card: CardStatement) {
  const job = { ...plainJob, thicknessMm: card.thicknessMm, airC: [[0, card.atC]] as const };
  return solveFilm({ ...card, humidityEffectPer10Pct: 0 }, constantsOf(card), job);
}

describe('a calibrated card', () => {
  it('is met by its own film, and a card that cannot be met has too short a working time', () => {
    let metCount = 0;
    for (const card of sweep) {
      const calibration = calibrateCard(card);
      if (calibration.kind === 'rejected') {
        expect(calibration.rejections).toHaveLength(1);
        expect(calibration.rejections[0]?.path).toBe('workingMin');
        // Nothing that leaves a third of the sanding time for working is ever turned down.
        expect(card.workingMin / card.sandMin < 0.34 || card.workingMin >= card.sandMin).toBe(true);
        continue;
      }
      metCount++;
      const { gelMin, sandMin } = solveCard(card);
      expect(Math.abs((gelMin ?? 0) / card.workingMin - 1)).toBeLessThan(0.005);
      expect(Math.abs((sandMin ?? 0) / card.sandMin - 1)).toBeLessThan(0.005);
      expect(calibration.constants.inductionS).toBeGreaterThan(0);
    }
    expect(metCount).toBeGreaterThan(sweep.length / 3);
  }, 60_000);

  it('is met also in its dampest effect, which the card leaves out', () => {
    const damp = { ...bodyFiller, humidityEffectPer10Pct: 0.05 };
    expect(constantsOf(damp)).toEqual(constantsOf(bodyFiller));
  });

  it('is met nearly as well by the quick fit', () => {
    const exact = constantsOf(bodyFiller);
    const quick = recalibrate(bodyFiller);
    expect(Math.abs((quick?.inductionS ?? 0) / exact.inductionS - 1)).toBeLessThan(2e-3);
    expect(Math.abs((quick?.rateConstantPerS ?? 0) / exact.rateConstantPerS - 1)).toBeLessThan(2e-3);
  });

  it('is met even where a first guess would not harden within 12 h', () => {
    const cold = { ...bodyFiller, atC: -10, workingMin: 120, sandMin: 600 };
    expect(solveCard(cold).sandMin).toBeCloseTo(600, -1);
  });

  it('tolerates properties it does not know', () => {
    const named = { ...bodyFiller, name: 'body filler', lowestC: 10 };
    expect(calibrateCard(named).kind).toBe('calibrated');
  });
});

describe('a card that cannot be used', () => {
  it.each([
    [
      'a working time as long as its sanding time',
      { workingMin: 17.5 },
      'workingMin',
      'not below the sanding time',
    ],
    ['a working time far too short', { workingMin: 0.5, sandMin: 60 }, 'workingMin', 'too short'],
    ['a working time all but its sanding time', { workingMin: 17.4 }, 'workingMin', 'too close'],
    ['an unknown fill', { fill: 'cork' as 'light' }, 'fill', 'cork'],
    ['a temperature that is no number', { atC: Number.NaN }, 'atC', 'not a finite number'],
    ['a film too thin', { thicknessMm: 0.01 }, 'thicknessMm', 'below 0.1'],
    ['too much hardener', { hardenerPct: 6 }, 'hardenerPct', 'above 5'],
    ['an activation energy of nothing', { activationKJPerMol: 0 }, 'activationKJPerMol', 'below 10'],
  ])('with %s is rejected by field and reason', (_, change, path, reason) => {
    const calibration = calibrateCard({ ...bodyFiller, ...change });
    expect(calibration).toMatchObject({ kind: 'rejected', rejections: [{ path }] });
    if (calibration.kind === 'rejected') expect(calibration.rejections[0]?.reason).toContain(reason);
  });

  it('is rejected for every field at once', () => {
    const card = { ...bodyFiller, atC: 99, hardenerPct: 0, sandMin: Infinity };
    expect(judgeCard(card).map(({ path }) => path)).toEqual(['atC', 'hardenerPct', 'sandMin']);
  });
});
