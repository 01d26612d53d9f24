// Which alerts a screen shows: by audience and person, in order of urgency, behind Floor's filters.
import { describe, expect, it } from 'vitest';
import { alertsFor, partByFilter } from '../../../dashboard/state/alertsFor.ts';
import type { AlertWire } from '../../../server/contract/index.ts';
import { makeAlert, makeBatch, minutesIn } from '../fixtures.ts';

const nobody = { person: null, isOnlyMine: true };
const ak = { person: 'AK', isOnlyMine: true };
const batches = [makeBatch(), makeBatch({ id: 'batch-2', bayId: 'bay-1', by: 'AK' })];

const test = makeAlert({ id: 'test', people: ['AK'], batchId: 'batch-2' });
const waiting = makeAlert({ id: 'waiting', kind: 'waiting', to: ['floor'] });
const slowing = makeAlert({ id: 'slowing', kind: 'slowing', to: ['bench', 'floor'], people: ['MR'] });
const quiet = makeAlert({
  id: 'quiet',
  kind: 'sensorQuiet',
  to: ['floor', 'setup'],
  batchId: null,
  panel: null,
  sensorId: 'air-1',
  bayId: 'bay-1',
});
const all = [quiet, slowing, waiting, test];

function idsOf(alerts: readonly AlertWire[]): string[] {
  return alerts.map(({ id }) => id);
}

describe('a screen', () => {
  it.each([
    ['bench', nobody, ['test', 'slowing']],
    ['bench', ak, ['test']],
    ['bench', { person: 'MR', isOnlyMine: true }, ['slowing']],
    ['bench', { person: 'AK', isOnlyMine: false }, ['test', 'slowing']],
    ['floor', nobody, ['waiting', 'slowing', 'quiet']],
    ['setup', nobody, ['quiet']],
    ['setup', ak, ['test', 'quiet']],
    ['floor', ak, ['test', 'waiting', 'slowing', 'quiet']],
  ] as const)('%s of %o shows %j', (place, whose, ids) => {
    expect(idsOf(alertsFor(all, { place, whose, batches }))).toEqual(ids);
  });

  it('shows on each Bench what is nobody’s', () => {
    const ofAll = makeAlert({ people: [] });
    expect(alertsFor([ofAll], { place: 'bench', whose: ak, batches })).toEqual([ofAll]);
  });

  it('puts calls before warnings and, of a kind, the older one first', () => {
    const late = makeAlert({ id: 'late', raisedAt: minutesIn(31) });
    const spread = makeAlert({ id: 'spread', kind: 'spreadBy', raisedAt: minutesIn(32) });
    const early = makeAlert({ id: 'early', raisedAt: minutesIn(30) });
    const shown = alertsFor([slowing, late, early, spread], { place: 'bench', whose: nobody, batches });
    expect(idsOf(shown)).toEqual(['spread', 'early', 'late', 'slowing']);
  });

  it('drops what its batch has gone on from, before the server says so', () => {
    const spread = makeAlert({ kind: 'spreadBy' });
    const ask = { place: 'bench', whose: nobody } as const;
    expect(alertsFor([spread], { ...ask, batches: [makeBatch()] })).toHaveLength(1);
    expect(alertsFor([spread], { ...ask, batches: [makeBatch({ spreadAt: minutesIn(2) })] })).toEqual([]);
    expect(alertsFor([makeAlert()], { ...ask, batches: [makeBatch({ stage: 'sanding' })] })).toEqual([]);
    expect(alertsFor([makeAlert()], { ...ask, batches: [] })).toEqual([]);
  });

  it('keeps a line for many while one of them still calls', () => {
    const [first] = slowing.subjects;
    const [second] = test.subjects;
    if (first === undefined || second === undefined) throw new Error('no subjects');
    const many = { ...slowing, folded: true, batchId: null, people: [], subjects: [first, second] };
    const ask = { place: 'bench', whose: nobody } as const;
    expect(alertsFor([many], { ...ask, batches: [makeBatch()] })).toEqual([many]);
    expect(alertsFor([many], { ...ask, batches: [] })).toEqual([]);
  });
});

describe('the filters of Floor', () => {
  it.each([
    [{ bayId: null, person: null }, ['quiet', 'slowing', 'waiting', 'test'], []],
    [{ bayId: 'bay-1', person: null }, ['quiet', 'test'], ['slowing', 'waiting']],
    [{ bayId: 'bay-2', person: null }, ['slowing', 'waiting'], ['quiet', 'test']],
    [{ bayId: null, person: 'MR' }, ['quiet', 'slowing', 'waiting'], ['test']],
  ])('%o leave %j inside and %j outside', (filter, inside, outside) => {
    const parts = partByFilter(all, { filter, batches });
    expect([idsOf(parts.inside), idsOf(parts.outside)]).toEqual([inside, outside]);
  });

  it('go by the bay in which a batch stands now, not by the one of its alert', () => {
    const filter = { bayId: 'bay-1', person: null };
    const moved = [makeBatch({ bayId: 'bay-1' })];
    expect(partByFilter([slowing], { filter, batches: moved }).inside).toEqual([slowing]);
  });
});
