// The air a batch met: at mixing, and its bounds while the film cured, along every bay.
import { describe, expect, it } from 'vitest';
import { airOfRecord, curedUntil } from '../../server/domain/recordAir.ts';
import type { AirPoint } from '../../server/domain/airSeries.ts';
import { fact, minute, series, stateAfter, stateOf, started } from '../support/domainFixtures.ts';

const seriesOf = (bays: Readonly<Record<string, AirPoint[]>>) => (bayId: string) => bays[bayId] ?? [];
const none = seriesOf({});

describe('the air of a record', () => {
  it('is taken between readings at mixing, and bounded by what was measured until sanding', () => {
    const airOf = seriesOf({ 'bay-1': series([-10, 12], [10, 14], [20, 9], [30, 13], [40, 30]) });
    const humidityOf = seriesOf({ 'bay-1': series([0, 61]) });
    expect(airOfRecord(stateOf(), { airOf, humidityOf }, minute(30))).toEqual({
      mixingC: 13,
      whileCuringMinC: 9,
      whileCuringMaxC: 14,
      humidityMixingPct: 61,
    });
  });

  it('follows the batch into another bay', () => {
    const moved = stateAfter(started(), fact('BatchMoved', 10, { bayId: 'bay-2' }));
    const airOf = seriesOf({
      'bay-1': series([0, 10], [5, 10], [20, -40]),
      'bay-2': series([0, 50], [10, 22], [20, 24]),
    });
    expect(airOfRecord(moved, { airOf, humidityOf: none }, minute(30))).toMatchObject({
      mixingC: 10,
      whileCuringMaxC: 24,
      humidityMixingPct: null,
    });
  });

  it('is not invented from a reading hours away, nor from none', () => {
    const airOf = seriesOf({ 'bay-1': series([46, 20]) });
    expect(airOfRecord(stateOf(), { airOf, humidityOf: none }, minute(60)).mixingC).toBeNull();
    expect(airOfRecord(stateOf(), { airOf: none, humidityOf: none }, minute(60))).toEqual({
      mixingC: null,
      whileCuringMinC: null,
      whileCuringMaxC: null,
      humidityMixingPct: null,
    });
  });

  it('ends with sanding, with the batch when that never came, or now', () => {
    const [sandingAt, closedAt, nowAt] = [minute(20), minute(30), minute(40)];
    expect(curedUntil(stateOf({ sandingAt, closedAt }), nowAt)).toBe(sandingAt);
    expect(curedUntil(stateOf({ closedAt }), nowAt)).toBe(closedAt);
    expect(curedUntil(stateOf(), nowAt)).toBe(nowAt);
  });
});
