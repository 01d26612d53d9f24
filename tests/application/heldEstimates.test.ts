// An estimate that is held instead of made again: whole days give the same facts with and without it.
import { describe, expect, it, vi } from 'vitest';
import { parseDiary } from '../../server/adapters/diary/parseDiary.ts';
import type { PlacedLine } from '../../server/adapters/diary/playLine.ts';
import type * as HeldEstimates from '../../server/application/heldEstimates.ts';
import type { Fact } from '../../server/domain/facts.ts';
import { replayDiary } from '../../server/replayDiary.ts';
import { replayedShop } from '../support/replayedShop.ts';

const held = vi.hoisted(() => ({ isUsed: true, foundCount: 0 }));

vi.mock('../../server/application/heldEstimates.ts', async (importOriginal) => {
  const original = await importOriginal<typeof HeldEstimates>();
  const findEstimate: typeof original.findEstimate = (shop, state) => {
    const found = held.isUsed ? original.findEstimate(shop, state) : null;
    if (found !== null) held.foundCount += 1;
    return found;
  };
  return { ...original, findEstimate };
});

const FIRST_AT = Date.UTC(2026, 0, 12, 6);
type Said = readonly [afterMin: number, what: Readonly<Record<string, unknown>>];

/** Readings of a bay at uneven times, by a wave of its own; each third one tells no humidity. */
function airOf(bay: string, pausesMin: readonly number[]): Said[] {
  const said: Said[] = [];
  let afterMin = 0;
  for (let index = 0; afterMin < 310; index += 1) {
    const airTemperatureC = Math.round(100 * (15 + 4 * Math.sin(afterMin / 70) + 0.1 * (index % 5))) / 100;
    const humidity = index % 3 === 0 ? {} : { relativeHumidityPct: 50 + (index % 7) };
    said.push([afterMin, { kind: 'reading', sensorId: `${bay}-air`, airTemperatureC, ...humidity }]);
    afterMin += pausesMin[index % pausesMin.length] ?? 1;
  }
  return said;
}

function batch(label: string, mixedMin: number, acts: readonly Said[], body: object = {}): Said[] {
  const start = {
    type: 'startBatch',
    cardId: 'body-filler',
    panel: 'Roof',
    bayId: 'bay-1',
    thicknessMm: 2,
    substrate: 'steel',
    ...body,
  };
  return [[0, start] as const, ...acts].map(([afterMin, what]) => [
    mixedMin + afterMin,
    { kind: 'command', batch: label, ...what },
  ]);
}

function linesOf(said: readonly Said[]): PlacedLine[] {
  return said
    .toSorted((a, b) => a[0] - b[0])
    .map(([afterMin, what], index) => {
      const at = new Date(FIRST_AT + afterMin * 60_000).toISOString();
      const parsed = parseDiary(JSON.stringify({ at, ...what }));
      if (parsed.kind === 'rejected') throw new Error(JSON.stringify(parsed.rejection));
      return { lineIndex: index + 1, line: parsed.line };
    });
}

async function factsOf(said: readonly Said[], isUsed: boolean): Promise<Fact[]> {
  held.isUsed = isUsed;
  const facts: Fact[] = [];
  for await (const event of replayDiary(linesOf(said), replayedShop()))
    if (event.kind === 'fact') facts.push(event.fact);
  return facts;
}

const gums: Said = [19, { type: 'recordCheck', outcome: 'gums' }];
const powders: Said = [41, { type: 'recordCheck', outcome: 'powders' }];
const spread: Said = [3.5, { type: 'markSpread' }];

describe('days with estimates that are held', () => {
  it.each<[string, Said[]]>([
    [
      'readings each minute, batches that wait long for their test, and one that teaches another',
      [
        ...airOf('bay-1', [1]),
        ...batch('a', 60.2, [spread, gums, powders, [55, { type: 'finishSanding' }]]),
        ...batch('b', 75.7, [spread, [90, { type: 'recordCheck', outcome: 'powders' }]], { thicknessMm: 4 }),
        ...batch('c', 130, [spread, [170, { type: 'scrap' }]], { thicknessMm: 1, cardId: 'winter-filler' }),
      ],
    ],
    [
      'readings with gaps up to an hour, a move, a lamp and an undo',
      [
        ...airOf('bay-1', [3, 11, 19, 21, 34, 61, 0.5]),
        ...airOf('bay-2', [7, 2, 46]),
        ...batch('a', 61, [
          spread,
          [9, { type: 'moveToBay', bayId: 'bay-2' }],
          gums,
          [23, { type: 'undo' }],
          powders,
        ]),
        ...batch('b', 64.3, [
          [6, { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: 12 }],
          powders,
        ]),
        ...batch('c', 140, [spread, powders, [45, { type: 'undo' }], [60, powders[1]]], {
          bayId: 'bay-2',
        }),
      ],
    ],
    [
      'batches that nobody tests in a bay that falls silent, for hours',
      [
        ...airOf('bay-1', [2]).filter(([afterMin]) => afterMin < 95),
        ...batch('a', 61, [spread, [300, { type: 'scrap' }]]),
        ...batch(
          'b',
          85,
          [
            [100, { type: 'recordCheck', outcome: 'gums' }],
            [270, { type: 'scrap' }],
          ],
          { thicknessMm: 6 },
        ),
        [340, { kind: 'reading', sensorId: 'bay-1-air', airTemperatureC: 9 }],
      ],
    ],
  ])('give the same facts as days without: %s', { timeout: 120_000 }, async (_what, said) => {
    held.foundCount = 0;
    const facts = await factsOf(said, true);
    expect(held.foundCount).toBeGreaterThan(30);
    expect(facts.filter(({ type }) => type === 'EstimateChanged').length).toBeGreaterThan(10);
    expect(facts).toEqual(await factsOf(said, false));
  });
});
