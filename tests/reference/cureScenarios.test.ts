// Every scenario of the independent solver: SciPy LSODA, method of lines, 60 and 120 cells, rtol 1e-8.
import { describe, expect, it } from 'vitest';
import { calibrateCard } from '../../server/engine/index.ts';
import { calibrations, errorsOf, scenarios, tableOf, tolerances } from './scenarioTable.ts';

const rows = scenarios.map((scenario) => errorsOf(scenario));

describe('a scenario of the independent solver', () => {
  process.stdout.write(`\n${tableOf(rows)}\n(errors in minutes; worst: part of what is allowed)\n`);

  it.each(rows)('is met within its tolerances: $name', (row) => {
    for (const ratio of Object.values(row.timeRatios)) expect(ratio).toBeLessThanOrEqual(1);
    expect(row.peakK).toBeLessThanOrEqual(tolerances.temperatureK);
    expect(row.sampleK).toBeLessThanOrEqual(tolerances.temperatureK);
    expect(row.sampleConversion).toBeLessThanOrEqual(tolerances.conversion);
  });

  it('leaves half of each tolerance for scenarios nobody has seen', () => {
    expect(Math.max(...rows.flatMap(({ timeRatios }) => Object.values(timeRatios)))).toBeLessThan(0.5);
    expect(Math.max(...rows.map(({ peakK }) => peakK))).toBeLessThan(tolerances.temperatureK / 2);
    expect(Math.max(...rows.map(({ sampleK }) => sampleK))).toBeLessThan(tolerances.temperatureK / 2);
  });
});

describe('the calibration of a reference card', () => {
  const cards = [...new Map(scenarios.map(({ card }) => [card.name, card])).values()];

  it.each(cards)('gives the reference constants of $name', (card) => {
    const theirs = calibrations[card.name];
    const calibration = calibrateCard(card);
    if (calibration.kind === 'rejected' || theirs === undefined)
      throw new Error('a reference card calibrates');
    expect(Math.abs(calibration.constants.inductionS / theirs.inductionS - 1)).toBeLessThan(1e-3);
    expect(Math.abs(calibration.constants.rateConstantPerS / theirs.rateConstantPerS - 1)).toBeLessThan(1e-3);
  });
});
