// What a card would say before it is kept, held against the reference solver, and what is called unusual.
import { describe, expect, it } from 'vitest';
import reference from '../fixtures/reference/cure-scenarios.json' with { type: 'json' };
import type { CardStated } from '../../server/domain/card.ts';
import { previewCard } from '../../server/domain/previewCard.ts';
import { cardOf } from '../support/domainFixtures.ts';

/** The codes that a card gets, with the slow row that every card has left out. */
function codesOf(id: string, stated: Partial<CardStated> = {}): string[] {
  return previewCard(cardOf(id, stated))
    .warnings.map(({ code }) => code)
    .filter((code) => code !== 'slow-in-the-cold');
}

describe('a preview', () => {
  it('shows of body filler what the reference solver says of 2 mm in steady air', () => {
    const { filmMm, rows } = previewCard(cardOf('body-filler'));
    expect(filmMm).toBe(2);
    // cure-scenarios.json, "steady 10 °C" to "steady 30 °C": an independent solver, stated to 0.5 %.
    const steady = reference.scenarios.filter(({ name }) => /^steady (10|15|20|25|30) °C/.test(name));
    expect(steady).toHaveLength(5);
    for (const { job, expected } of steady) {
      const row = rows.find(({ airTemperatureC }) => airTemperatureC === job.airC[0]?.[1]);
      expect(Math.abs((row?.testMin ?? 0) / expected.testMin - 1)).toBeLessThan(0.005);
      expect(Math.abs((row?.workingMin ?? 0) / expected.gelMin - 1)).toBeLessThan(0.005);
    }
  });

  it('doubles its wait over what its own rows say', () => {
    const { rows, doublingK } = previewCard(cardOf('body-filler'));
    const at = (airC: number): number => rows.find((row) => row.airTemperatureC === airC)?.testMin ?? 0;
    expect(doublingK).toBeCloseTo((10 * Math.log(2)) / Math.log(at(10) / at(20)), 6);
  });

  it('names the warmest promised temperature at which it takes twice as long as the tin', () => {
    const { rows, warnings } = previewCard(cardOf('winter-filler'));
    const slow = warnings.find(({ code }) => code === 'slow-in-the-cold');
    expect(slow).toMatchObject({ path: 'lowestC', row: { airTemperatureC: 5 } });
    expect(slow?.sentence).toBe(`This card would take ${Math.round(rows[0]?.testMin ?? 0)} min at 5 °C.`);
    expect(rows.map(({ isPromised }) => isPromised)).toEqual([true, true, true, true, true, true]);
  });

  it('promises nothing below the lowest temperature and warns of nothing there', () => {
    const { rows, warnings } = previewCard(cardOf('body-filler', { lowestC: 20 }));
    expect(rows.filter(({ isPromised }) => isPromised)).toHaveLength(3);
    expect(warnings).toEqual([]);
  });

  it('is of a thinner film where the product may only be thin', () => {
    expect(previewCard(cardOf('finishing-putty', { thicknessMaxMm: 0.5 })).filmMm).toBe(0.5);
  });

  it('finds nothing unusual in what the shop starts with', () => {
    for (const id of ['body-filler', 'lightweight-filler', 'finishing-putty', 'winter-filler'])
      expect(codesOf(id)).toEqual([]);
  });

  it.each<[string, Partial<CardStated>, string[]]>([
    ['hardly minds the cold', { activationKJPerMol: 15 }, ['doubling-unusual']],
    ['can be spread for half of its time', { workingMin: 10, sandMin: 17.5 }, ['working-share-unusual']],
    ['has much hardener', { hardenerPct: 3.5 }, ['hardener-unusual']],
    ['has little hardener', { hardenerPct: 0.8 }, ['hardener-unusual']],
    ['goes on thick', { thicknessMaxMm: 8 }, ['thick-for-one-coat']],
  ])('warns of a card that %s', (_what, stated, codes) => {
    expect(codesOf('body-filler', stated)).toEqual(codes);
  });

  it('warns of a film that stalls where the tin still promises something', () => {
    const card = cardOf('body-filler', { sandMin: 500, workingMin: 150, lowestC: 5 });
    const { rows, doublingK, warnings } = previewCard(card);
    expect(rows[0]).toMatchObject({ testMin: null });
    expect(doublingK).toBeNull();
    expect(warnings.map(({ code }) => code)).toContain('stalls-in-the-cold');
    const stalled = warnings.find(({ code }) => code === 'stalls-in-the-cold');
    expect(stalled?.sentence).toMatch(/^This card would not be sandable within 12 hours at \d+ °C\.$/);
    expect(stalled?.row?.testMin).toBeNull();
  });
});
