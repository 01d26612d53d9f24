// What a screen says of a shop's computer in trouble: what is wrong, what it means here, what to do, in both languages.
import { describe, expect, it } from 'vitest';
import { formatDegraded } from '../../../dashboard/format/degradedText.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { PART_TROUBLES, TROUBLE_PARTS, type TroubleWire } from '../../../server/contract/index.ts';

const FULL: TroubleWire = { part: 'ledger', code: 'full' };

describe('the line of a trouble', () => {
  it('says what is wrong, what to do, and on a device with taps what becomes of those', () => {
    expect(formatDegraded([FULL], { words: wordsEn, isEntering: true })).toEqual([
      'Disk full: nothing new is stored. Make room on the shop computer. Taps are kept here and sent later.',
    ]);
    expect(formatDegraded([FULL], { words: wordsEs, isEntering: false })).toEqual([
      'Disco lleno: no se guarda nada nuevo. Haga sitio en la computadora del taller.',
    ]);
  });

  it('is one for each part, the worst first, and none for messages that wait, which have their own', () => {
    const troubles: TroubleWire[] = [
      { part: 'outbox', code: 'late' },
      { part: 'broker', code: 'gone' },
      { part: 'integrity', code: 'damaged' },
    ];
    const lines = formatDegraded(troubles, { words: wordsEn, isEntering: true });
    expect(lines).toHaveLength(2);
    expect(lines[0]).toContain('damaged');
    expect(lines[1]).toContain('Sensors have no way in');
  });

  it('is there for whatever a part may say, in both languages and never the same', () => {
    for (const part of TROUBLE_PARTS.filter((one) => one !== 'outbox')) {
      for (const code of PART_TROUBLES) {
        const [en, es] = [wordsEn, wordsEs].map(
          (words) => formatDegraded([{ part, code }], { words, isEntering: false })[0],
        );
        expect(en).toMatch(/\.$/);
        expect(es).toMatch(/\.$/);
        expect(es).not.toBe(en);
      }
    }
  });
});
