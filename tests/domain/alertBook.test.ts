// The book of the shop's own alerts: what it keeps, for how long, and what is none of its business.
import { describe, expect, it } from 'vitest';
import { EMPTY_BOOK, evolveBook, isOfBook } from '../../server/domain/alertBook.ts';
import type { AlertSubject, FactBodies, FactDraft, FactType } from '../../server/domain/facts.ts';
import { fact, minute, started } from '../support/domainFixtures.ts';

/** A fact of no batch. */
function ofShop<T extends FactType>(type: T, afterMin: number, body: FactBodies[T]): FactDraft {
  return { ...fact(type, afterMin, body).draft, batchId: null };
}

function subject(sensorId: string): AlertSubject {
  return { batchId: null, panel: null, sensorId, bayId: 'bay-1', by: null, sinceAt: minute(10) };
}

const quiet = ofShop('SensorQuiet', 10, { sensorId: 's1', lastAt: minute(0) });
const raised = ofShop('AlertRaised', 10, {
  alertId: 'shop.sensorQuiet.1',
  kind: 'sensorQuiet',
  subjects: [subject('s1')],
});

describe('the book', () => {
  it('holds facts of no batch that speak of sensors and alerts, and no others', () => {
    expect(isOfBook(quiet)).toBe(true);
    expect(isOfBook(started().draft)).toBe(false);
    expect(isOfBook(ofShop('AlertWithdrawn', 1, { alertId: 'a' }))).toBe(true);
    expect(isOfBook(fact('AlertWithdrawn', 1, { alertId: 'a' }).draft)).toBe(false);
    expect(evolveBook(EMPTY_BOOK, started().draft)).toBe(EMPTY_BOOK);
  });

  it('knows a sensor as quiet, and that it is back only where people were told', () => {
    const seen = ofShop('SensorSeen', 12, { sensorId: 's1' });
    const silenceAfter = (...facts: FactDraft[]) => facts.reduce(evolveBook, EMPTY_BOOK).silences['s1'];
    expect(silenceAfter(quiet)).toEqual({ isQuiet: true, lastAt: minute(0), backAt: null });
    expect(silenceAfter(quiet, seen)).toEqual({ isQuiet: false, lastAt: minute(0), backAt: null });
    expect(silenceAfter(quiet, raised, seen)).toEqual({
      isQuiet: false,
      lastAt: minute(0),
      backAt: minute(12),
    });
    expect(silenceAfter(seen)).toBeUndefined();
  });

  it('names rounds by how many there were, and forgets an alert an hour after it was withdrawn', () => {
    const withdrawn = ofShop('AlertWithdrawn', 20, { alertId: 'shop.sensorQuiet.1' });
    const book = [quiet, raised, withdrawn].reduce(evolveBook, EMPTY_BOOK);
    expect(book.alerts).toMatchObject([
      { id: 'shop.sensorQuiet.1', withdrawnAt: minute(20), isFolded: false },
    ]);
    const other = (afterMin: number): FactDraft =>
      ofShop('SensorQuiet', afterMin, { sensorId: 's2', lastAt: minute(0) });
    expect(evolveBook(book, other(79)).alerts).toHaveLength(1);
    const later = evolveBook(book, other(80));
    expect(later.alerts).toEqual([]);
    expect(later.raisedCounts).toEqual({ sensorQuiet: 1 });
  });

  it('takes an alert without subjects for one of nothing, and marks only the alert that is named', () => {
    const bare = ofShop('AlertRaised', 1, { alertId: 'shop.tooCold.1', kind: 'tooCold' });
    const seen = ofShop('AlertAcknowledged', 2, { alertId: 'shop.tooCold.1' });
    const grown = ofShop('AlertSubjectsChanged', 3, {
      alertId: 'shop.sensorQuiet.1',
      subjects: [subject('s1'), subject('s2')],
    });
    expect([bare, raised, seen, grown].reduce(evolveBook, EMPTY_BOOK).alerts).toMatchObject([
      { id: 'shop.tooCold.1', subjects: [], acknowledgedAt: minute(2) },
      { id: 'shop.sensorQuiet.1', subjects: [{ sensorId: 's1' }, { sensorId: 's2' }], acknowledgedAt: null },
    ]);
  });
});
