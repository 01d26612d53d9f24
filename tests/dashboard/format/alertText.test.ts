// What an alert says, in both languages: of one panel or sensor, or of many in one line.
import { describe, expect, it } from 'vitest';
import { alertName, alertText } from '../../../dashboard/format/alertText.ts';
import { wordsEn } from '../../../dashboard/format/words.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { ALERT_KINDS, type AlertWire } from '../../../server/contract/index.ts';
import { makeAlert } from '../fixtures.ts';

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
});
