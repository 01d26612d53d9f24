// A start becomes a fact with the shop's defaults filled in, or is refused with what is wrong.
import { describe, expect, it } from 'vitest';
import type { RefusalCode, StartBatch } from '../../server/contract/index.ts';
import { decideStart } from '../../server/domain/decideStart.ts';
import { BATCH_ID, BAY_IDS, BODY_FILLER, expectUsable, MIXED_AT, minute } from '../support/domainFixtures.ts';

const PLAIN: StartBatch = {
  cardId: 'body-filler',
  panel: 'Left front door',
  bayId: 'bay-1',
  thicknessMm: 2,
  substrate: 'steel',
};

const NOW_MIN = 2000;

function decide(body: Partial<StartBatch>, card: typeof BODY_FILLER | null = BODY_FILLER) {
  const decision = decideStart(
    { ...PLAIN, ...body },
    { batchId: BATCH_ID, card, bayIds: BAY_IDS, nowAt: minute(NOW_MIN) },
  );
  expectUsable(decision);
  return decision;
}

describe('a start', () => {
  it('of few words takes hardener from the card and the rest from the house', () => {
    expect(decide({})).toEqual({
      kind: 'accepted',
      facts: [
        {
          type: 'BatchStarted',
          version: 1,
          at: minute(NOW_MIN),
          by: null,
          batchId: BATCH_ID,
          bayId: 'bay-1',
          body: {
            ...PLAIN,
            repairOrder: null,
            promisedAt: null,
            remainingWorkMin: null,
            hardenerPct: 2,
            weighed: false,
            underlayMm: 0,
            mixedAt: minute(NOW_MIN),
            rolledInAt: null,
            outdoorTemperatureC: null,
            panelTemperatureC: null,
          },
        },
      ],
    });
  });

  it('of many words keeps them all', () => {
    const words = {
      repairOrder: 'RO 4711',
      promisedAt: minute(3000),
      remainingWorkMin: 90,
      hardenerPct: 2.5,
      weighed: true,
      underlayMm: 1,
      mixedAt: minute(1990),
      rolledInAt: minute(1900),
      outdoorTemperatureC: -5,
      panelTemperatureC: 8,
    };
    expect(decide({ ...words, by: 'AB' })).toMatchObject({
      facts: [{ at: minute(1990), by: 'AB', body: { ...PLAIN, ...words } }],
    });
  });

  it.each([
    ['back by a day', NOW_MIN - 1440, NOW_MIN - 1440],
    ['now', NOW_MIN, NOW_MIN],
    ['ahead by a minute, which counts as now', NOW_MIN + 1, NOW_MIN],
  ])('may be dated %s', (_, mixedMin, heldMin) => {
    expect(decide({ mixedAt: minute(mixedMin) })).toMatchObject({
      facts: [{ at: minute(heldMin), body: { mixedAt: minute(heldMin) } }],
    });
  });

  it.each([
    ['more than a minute ahead', { mixedAt: minute(NOW_MIN + 1.001) }, 'in-the-future'],
    ['more than a day back', { mixedAt: minute(NOW_MIN - 1440.001) }, 'too-long-ago'],
    ['at the beginning of time', { mixedAt: (MIXED_AT - MIXED_AT) as typeof MIXED_AT }, 'too-long-ago'],
    ['in a bay that is not there', { bayId: 'attic' }, 'unknown-bay'],
  ] as const satisfies readonly (readonly [string, Partial<StartBatch>, RefusalCode])[])(
    'is refused %s',
    (_, body, code) => {
      expect(decide(body)).toMatchObject({ kind: 'refused', refusal: { code } });
    },
  );

  it('is refused with the name of a product that the shop does not have', () => {
    const sentence = 'There is no product "primer" in this shop.';
    expect(decide({ cardId: 'primer' }, null)).toEqual({
      kind: 'refused',
      refusal: { code: 'unknown-card', sentence },
    });
  });
});

describe('a car that rolled in', () => {
  it.each<[string, number, RefusalCode | null]>([
    ['at the minute of mixing', NOW_MIN, null],
    ['a day before', NOW_MIN - 1440, null],
    ['after the mix', NOW_MIN + 0.5, 'in-the-future'],
    ['more than a day before', NOW_MIN - 1441, 'too-long-ago'],
  ])('%s', (_what, rolledInMin, code) => {
    const decision = decide({ rolledInAt: minute(rolledInMin) });
    if (code === null) expect(decision.kind).toBe('accepted');
    else expect(decision).toMatchObject({ refusal: { code, path: 'rolledInAt' } });
  });
});
