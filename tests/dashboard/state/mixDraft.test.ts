// What Mix has already chosen, and the body it becomes.
import { describe, expect, it } from 'vitest';
import {
  chooseCard,
  lastMixOf,
  makeMixDraft,
  mistakesOf,
  nextLayerOf,
  startBodyOf,
} from '../../../dashboard/state/mixDraft.ts';
import { makeBatch, makeSnapshot, minutesIn, MIXED_AT } from '../fixtures.ts';

const { cards, bays } = makeSnapshot();
const choices = { cards, bays, person: null, last: null };

describe('the draft of a mix', () => {
  it('takes the first product and bay on a device that never mixed', () => {
    expect(makeMixDraft(choices)).toMatchObject({
      cardId: 'body-filler',
      bayId: 'bay-1',
      panel: '',
      substrate: 'steel',
      hardener: '2',
    });
  });

  it('repeats what was used last', () => {
    const first = makeMixDraft(choices, {
      cardId: 'finishing-putty',
      panel: 'Bonnet',
      thicknessMm: 0.5,
      bayId: 'bay-2',
    });
    const last = lastMixOf({ ...first, hardener: '2.2' });
    expect(lastMixOf(makeMixDraft({ ...choices, last }))).toEqual(last);
  });

  it('falls back to the first product when the last one is gone', () => {
    const last = { ...lastMixOf(makeMixDraft(choices)), cardId: 'gone', hardener: '4' };
    expect(makeMixDraft({ ...choices, last })).toMatchObject({ cardId: 'body-filler', hardener: '2' });
  });

  it('takes the hardener of a newly chosen card unless it was changed by hand', () => {
    const draft = makeMixDraft(choices);
    const putty = cards[1];
    if (putty === undefined) throw new Error('the fixture has two cards');
    expect(chooseCard(draft, putty, cards).hardener).toBe('2.5');
    expect(chooseCard({ ...draft, hardener: '3' }, putty, cards).hardener).toBe('3');
  });

  it('lays putty as a skim over the layer before', () => {
    expect(nextLayerOf(makeBatch({ thicknessMm: 4 }), cards)).toMatchObject({
      panel: 'Left front door',
      cardId: 'finishing-putty',
      underlay: '4',
      thicknessMm: 0.5,
    });
  });
});

describe('what lies under a next layer', () => {
  it('is the coat below with all that is under it, as far as the shop computer takes it', () => {
    const underlayOn = (underlayMm: number, thicknessMm: number) =>
      nextLayerOf(makeBatch({ underlayMm, thicknessMm }), cards).underlay;
    expect([underlayOn(0, 2), underlayOn(2, 0.5), underlayOn(0.1, 0.2), underlayOn(10, 6)]).toEqual([
      '2',
      '2.5',
      '0.3',
      '12',
    ]);
  });
});

describe('the body of a mix', () => {
  it('leaves out what was left empty', () => {
    const draft = makeMixDraft(choices, { panel: ' Roof ' });
    expect(startBodyOf(draft, MIXED_AT)).toEqual({
      cardId: 'body-filler',
      panel: 'Roof',
      bayId: 'bay-1',
      thicknessMm: 2,
      substrate: 'steel',
      hardenerPct: 2,
      weighed: false,
      underlayMm: 0,
      mixedAt: minutesIn(0),
    });
  });

  it('dates mixing and rolling in back from now', () => {
    const draft = makeMixDraft(choices, {
      panel: 'Roof',
      mixedAgoMin: 2,
      isColdCar: true,
      rolledInAgo: '30',
      outdoor: '-4,5',
    });
    expect(startBodyOf(draft, MIXED_AT)).toMatchObject({
      mixedAt: minutesIn(-2),
      rolledInAt: minutesIn(-30),
      outdoorTemperatureC: -4.5,
    });
  });
});

describe('the mistakes of a draft', () => {
  it('name a panel that was not chosen and a number that is none', () => {
    const draft = makeMixDraft(choices, { hardener: 'two' });
    expect(mistakesOf(draft)).toEqual([
      { path: 'panel', kind: 'missing' },
      { path: 'hardenerPct', kind: 'notNumber' },
    ]);
  });

  it('leave the car alone unless it was rolled in', () => {
    expect(mistakesOf(makeMixDraft(choices, { panel: 'Roof', outdoor: '' }))).toEqual([]);
    expect(mistakesOf(makeMixDraft(choices, { panel: 'Roof', outdoor: '', isColdCar: true }))).toHaveLength(
      1,
    );
  });
});
