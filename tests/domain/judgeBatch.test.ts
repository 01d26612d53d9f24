// Holds and warnings: damp, cold and hot panels, hardener and thickness outside good practice.
import { describe, expect, it } from 'vitest';
import type { BatchState } from '../../server/domain/batch.ts';
import type { FilmQuestion } from '../../server/domain/filmJob.ts';
import { judgeBatch } from '../../server/domain/judgeBatch.ts';
import { dewPointC } from '../../server/engine/index.ts';
import { BODY_FILLER, cardOf, minute, stateOf } from '../support/domainFixtures.ts';

/** What is known of a film in dry air of 20 °C, with what is given in place of it. */
function filmOf(parts: Partial<FilmQuestion> = {}): FilmQuestion {
  return {
    job: { substrate: 'steel', thicknessMm: 2, hardenerPct: 2, airC: [[0, 20]], humidityPct: [[0, 60]] },
    newestReading: null,
    airNowC: 20,
    humidityNowPct: 60,
    panelStartC: 20,
    isHumidityKnown: true,
    ...parts,
  };
}

interface Known {
  readonly state?: Partial<BatchState>;
  readonly film?: FilmQuestion | null;
  readonly peakC?: number | null;
  readonly card?: typeof BODY_FILLER;
}

function notes({ state = {}, film = filmOf(), peakC = 30, card = BODY_FILLER }: Known): readonly string[] {
  return judgeBatch(stateOf(state), { card, film, peakC });
}

describe('a batch in good practice', () => {
  it.each([
    ['in warm dry air', {}],
    ['without any air', { film: null, peakC: null }],
    ['at the least and most hardener', { state: { hardenerPct: 1 } }],
    ['at the most hardener', { state: { hardenerPct: 3 } }],
    ['at the thickness that its card allows', { state: { thicknessMm: 6 } }],
    ['at 60 °C under a lamp', { peakC: 60 }],
    [
      'at its card’s lowest temperature',
      { film: filmOf({ airNowC: 10, panelStartC: 10, humidityNowPct: 30 }) },
    ],
  ] satisfies [string, Known][])('has no notes %s', (_, known) => {
    expect(notes(known)).toEqual([]);
  });
});

describe('condensation', () => {
  // DP-2: air of 20 °C and 60 % has its dew point at 11.9955 °C.
  const limitC = dewPointC(20, 60) + 3;

  it('holds below three kelvin over the dew point, and not at exactly three (DP-6)', () => {
    expect(limitC).toBeCloseTo(14.9955, 3);
    expect(notes({ film: filmOf({ panelStartC: limitC }) })).toEqual([]);
    expect(notes({ film: filmOf({ panelStartC: limitC - 0.001 }) })).toEqual(['condensation-hold']);
  });

  it.each([
    ['has been spread', { state: { spreadAt: minute(2) } }],
    ['has kicked', { state: { stage: 'kicked' } }],
  ] satisfies [string, Known][])('no longer matters once the mix %s', (_, known) => {
    expect(notes({ ...known, film: filmOf({ panelStartC: 11 }) })).toEqual([]);
  });

  it('is not guessed while humidity is unknown', () => {
    expect(notes({ film: filmOf({ panelStartC: 11, isHumidityKnown: false }) })).toEqual([]);
  });

  it('is judged in bone dry air and above saturation', () => {
    expect(notes({ film: filmOf({ humidityNowPct: 0 }) })).toEqual([]);
    expect(notes({ film: filmOf({ humidityNowPct: 100, panelStartC: 22.9 }) })).toEqual([
      'condensation-hold',
    ]);
  });
});

describe('a warning', () => {
  it.each([
    ['of a cold panel', { film: filmOf({ panelStartC: 9.99, humidityNowPct: 30 }) }, 'too-cold'],
    ['of cold air', { film: filmOf({ airNowC: 9.99, humidityNowPct: 30 }) }, 'too-cold'],
    ['of a hot film', { peakC: 60.01 }, 'too-hot'],
    ['of little hardener', { state: { hardenerPct: 0.99 } }, 'hardener-low'],
    ['of much hardener', { state: { hardenerPct: 3.01 } }, 'hardener-high'],
    ['of a thick film', { state: { thicknessMm: 6.01 } }, 'film-thick'],
    ['of a thick putty', { state: { thicknessMm: 3.01 }, card: cardOf('finishing-putty') }, 'film-thick'],
  ] satisfies [string, Known, string][])('tells %s', (_, known, code) => {
    expect(notes(known)).toEqual([code]);
  });

  it('goes by the card’s own lowest temperature', () => {
    const film = filmOf({ airNowC: 7, panelStartC: 7, humidityNowPct: 30 });
    expect(notes({ film, card: cardOf('winter-filler') })).toEqual([]);
  });

  it('stands beside every other', () => {
    const film = filmOf({ panelStartC: 5 });
    expect(notes({ film, peakC: 61, state: { hardenerPct: 4, thicknessMm: 8 } })).toEqual([
      'condensation-hold',
      'too-cold',
      'too-hot',
      'hardener-high',
      'film-thick',
    ]);
  });
});
