// The catalogue's part for what Bench has beside its slips: plain timers, what was just finished, who was quicker.
export const benchWordsEn = {
  timer: {
    title: 'Plain timer',
    badge: 'Plain timer, not computed',
    where: 'It counts on this device only: other screens do not know of it.',
    intro: 'For what this program cannot compute. It counts the minutes that you say, whatever the air does.',
    what: 'What for',
    kinds: ['Primer', 'One-part putty', 'Guide coat', 'Seam sealer'],
    other: 'Something else',
    minutes: 'Minutes',
    otherMinutes: 'Other minutes',
    start: 'Start the timer',
    nameMissing: 'say what it is for',
    lookAgain: 'Not started: look at the marked fields.',
    lead: 'ends in',
    up: 'Time is up',
    upFor: (minutes: number) => (minutes === 0 ? 'just now' : `for ${minutes} min`),
    of: (minutes: string, clock: string) => `${minutes} min, until ${clock}`,
    upText: (name: string) => `${name}: time is up`,
    stop: 'Stop',
    done: 'Done',
    more: '+5 min',
    started: (name: string) => `${name}: timer started`,
    stopped: (name: string) => `${name}: timer stopped`,
    extended: (name: string) => `${name}: 5 minutes more`,
  },
  closed: {
    title: 'Just finished',
    sanded: (clock: string) => `sanded ${clock}`,
    scrapped: (clock: string) => `scrapped ${clock}`,
    layer: 'Next layer',
    layerFor: (panel: string) => `Next layer on ${panel}`,
    undoFor: (panel: string) => `Undo, ${panel}`,
  },
  quicker: {
    somebody: 'Another device',
    was: (of: { who: string; act: string; clock: string; yours: string }) =>
      `${of.who} was quicker: “${of.act}” at ${of.clock}. Your “${of.yours}” was not stored.`,
    tookBack: (yours: string) =>
      `Somebody has taken an act back meanwhile. Your “${yours}” was not stored: look again.`,
  },
  awake: {
    insecure:
      'The address is not encrypted, so this screen may go dark while it counts. Set its screen time longer; listen for the sound.',
    refused: 'This screen may go dark while it counts. Set its screen time longer; listen for the sound.',
    understood: 'OK',
  },
};
