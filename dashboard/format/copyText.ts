// What Setup says of the copies that are kept: how often they are made, and why there is none.
import type { CopiesWire, CopyTrouble } from '../../server/contract/index.ts';
import { numberFormat } from './intl.ts';
import type { Words } from './words.en.ts';

const HOUR_MIN = 60;
const DAY_MIN = 1440;

/** How often a copy is made, and how many stay. */
export function describeSchedule(
  { everyMin, quietTime, keepCount, folder }: CopiesWire,
  { keptCopies: words, language }: Words,
): string {
  const kept = { count: keepCount, folder };
  if (everyMin === DAY_MIN) return words.daily({ ...kept, time: quietTime });
  if (everyMin > DAY_MIN)
    return words.everyDays({ ...kept, dayCount: Math.round(everyMin / DAY_MIN), time: quietTime });
  const hours = numberFormat(language, { maximumFractionDigits: 1 }).format(everyMin / HOUR_MIN);
  return words.everyHours({ ...kept, hours });
}

/** Why no copy could be made, as a clause with its own end. */
export function whyNoCopy(code: CopyTrouble, { keptCopies: { why } }: Words): string {
  switch (code) {
    case 'no-room':
      return why.noRoom;
    case 'not-written':
      return why.notWritten;
    case 'damaged':
      return why.damaged;
    case 'unfinished':
      return why.unfinished;
  }
}
