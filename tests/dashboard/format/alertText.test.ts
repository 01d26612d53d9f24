// What an alert says, in both languages: of one panel or sensor, or of many in one line.
import { describe, expect, it } from 'vitest';
import { alertMoved, alertName, alertText, subjectText } from '../../../dashboard/format/alertText.ts';
import { METRIC } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { ALERT_KINDS, type AlertWire } from '../../../server/contract/index.ts';
import { makeAlert, minutesIn } from '../fixtures.ts';

const subject = { batchId: 'b', panel: 'Hood', bayId: 'bay-1', sensorId: null, by: null };

/** A line that stands for so many. */
function folded(kind: AlertWire['kind'], count: number): AlertWire {
  const subjects = Array.from({ length: count }, () => subject);
  return { ...makeAlert({ kind }), folded: true, batchId: null, panel: null, subjects };
}

describe.each([
  ['English', wordsEn],
  ['Spanish', wordsEs],
])('an alert in %s', (_, words) => {
  it.each(ALERT_KINDS)('of kind %s names what it is about', (kind) => {
    const ofSensor = { ...makeAlert({ kind }), panel: null, sensorId: 'bay-1-air' };
    const alert = kind.startsWith('sensor') ? ofSensor : makeAlert({ kind, panel: 'Hood' });
    const name = kind.startsWith('sensor') ? 'bay-1-air' : 'Hood';
    expect(alertText(alert, words)).toContain(name);
    expect(alertName(alert, words)).toBe(name);
  });

  it.each(ALERT_KINDS.filter((kind) => kind !== 'spreadBy' && kind !== 'test'))(
    'of kind %s says how many are in one line',
    (kind) => {
      expect(alertText(folded(kind, 4), words)).toMatch(/\b4\b/);
      expect(alertText(folded(kind, 1), words)).not.toBe(alertText(folded(kind, 4), words).replace('4', '1'));
      expect(alertName(folded(kind, 4), words)).toBe(alertText(folded(kind, 4), words));
    },
  );

  it('says how far a window moved, and where no time is left', () => {
    const alert = makeAlert({ kind: 'slowing', movedFromAt: minutesIn(25), movedToAt: minutesIn(47) });
    const ask = { words, place: { locale: 'en-GB', units: METRIC, timeZone: 'UTC' } };
    expect(alertMoved(alert, ask)).toMatch(/07:47.*07:25/);
    expect(alertMoved({ ...alert, movedToAt: null }, ask)).toMatch(/^[^:]*07:25$/);
    expect(alertMoved(makeAlert({ kind: 'tooCold' }), ask)).toBeNull();
  });
});

describe('one of many', () => {
  it('is told with its bay and its person, as far as it has them', () => {
    const bayName = (): string => 'Bay 1';
    expect(subjectText({ ...subject, by: 'AK' }, bayName)).toBe('Hood · Bay 1 · AK');
    expect(subjectText({ ...subject, panel: null, sensorId: 'air-3', bayId: null }, bayName)).toBe('air-3');
  });
});
