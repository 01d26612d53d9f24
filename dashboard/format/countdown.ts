// The one large countdown of a slip, in three parts that the screen sets in different sizes.
import { formatMinutesSeconds } from './clock.ts';
import type { Phase } from './phase.ts';
import type { Words } from './words.en.ts';

export interface Countdown {
  /** Small, before the figure: "test in". */
  readonly lead: string;
  /** The largest thing on the screen: "12". */
  readonly figure: string;
  /** Beside the figure: "min". */
  readonly unit: string;
  /** Below the figure, where the figure is a word: "waiting 4 min". */
  readonly tail: string;
}

/** The countdown of a phase. */
export function formatCountdown(phase: Phase, words: Words): Countdown {
  const { countdown } = words;
  const part = (lead: string, figure: string, unit = '', tail = ''): Countdown => ({
    lead,
    figure,
    unit,
    tail,
  });
  switch (phase.kind) {
    case 'spreadWithin':
      return part(countdown.spreadWithin, formatMinutesSeconds(phase.remainingS));
    case 'spreadOver':
      return part('', countdown.stopSpreading, '', countdown.stopSpreadingTail);
    case 'testIn':
      return part(countdown.testIn, String(phase.remainingMin), words.unit.min);
    case 'testDue':
      return part('', countdown.testNow);
    case 'testNow':
      return part('', countdown.testNow, '', countdown.waiting(phase.waitingMin));
    case 'sanding':
      return part(countdown.sandingFor, String(phase.sinceMin), words.unit.min);
    case 'closed':
      return part('', countdown.closed);
    case 'noTime':
      return part('', phase.why === 'pending' ? countdown.pending : countdown.noTime);
  }
}

/** The countdown as one line, for titles and readers: "test in 12 min". */
export function formatCountdownText(phase: Phase, words: Words): string {
  const { lead, figure, unit, tail } = formatCountdown(phase, words);
  // On the slip the stage's own word stands above.
  const stage = phase.kind === 'sanding' ? words.stage.sanding : '';
  return [stage, lead, figure, unit, tail].filter((text) => text !== '').join(' ');
}
