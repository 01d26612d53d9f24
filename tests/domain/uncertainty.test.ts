// What nobody measures of one batch: how it was dosed and how its air was watched.
import { describe, expect, it } from 'vitest';
import { uncertaintyOf } from '../../server/domain/uncertainty.ts';

describe('a batch', () => {
  it('dosed by bead in air without doubt is as uncertain as the design says', () => {
    // Design MODEL §5; the lamp is chosen.
    expect(uncertaintyOf({ weighed: false }, { offsetSdK: 0 })).toEqual({
      hardenerLogSd: 0.1,
      thicknessLogSd: 0.15,
      bayOffsetSdK: 0.7,
      heatSdJPerKg: 12_000,
      humidityEffectSd: 0.01,
      lampLogSd: 0.03,
    });
  });

  it('whose hardener was weighed is surer of that alone', () => {
    const [bead, weighed] = [false, true].map((isWeighed) =>
      uncertaintyOf({ weighed: isWeighed }, { offsetSdK: 0.4 }),
    );
    expect(weighed).toEqual({ ...bead, hardenerLogSd: 0.03 });
  });

  it('in doubtful air is unsure of it by both: squares add up', () => {
    expect(uncertaintyOf({ weighed: false }, { offsetSdK: 2.4 }).bayOffsetSdK).toBeCloseTo(2.5, 12);
  });
});
