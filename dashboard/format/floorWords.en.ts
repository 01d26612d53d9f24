// The catalogue's part for Floor: rows, the plan of next hands, promises in danger, the wall.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const floorWordsEn = {
  floor: {
    panels: 'Panels',
    nextHands: 'Next hands',
    inHand: 'In hand',
    order: 'Order',
    byPromise: 'By promise',
    byBay: 'By bay',
    bay: 'Bay',
    allBays: 'All bays',
    person: 'Person',
    everyone: 'Everyone',
    wall: 'Wall',
    wallHint: 'Fills the screen, without controls. Esc comes back.',
    onlyShown: (what: string) => `Only ${what}`,
    page: (index: number, count: number) => `${index} of ${count}`,
    empty: 'Nothing is curing.',
    emptyHint: 'Mix a batch and it appears here with its window.',
    filtered: 'No open panel here.',
    filteredHint: 'Others are open behind the filters.',
    showAll: 'Show all panels',
    planPending: 'Working out who is needed next…',
    planNone: 'Nobody is needed.',
    planMore: (count: number) => `and ${count} more`,
    dangerCount: (count: number) =>
      counted(count, { one: '# promise in danger', other: '# promises in danger' }),
    noDanger: 'No promise in danger',
    open: (panel: string) => `More about ${panel}`,
    now: 'now',
    nowLine: (clock: string) => `now ${clock}`,
    duration: (of: { hourCount: number; minutes: number }) =>
      of.hourCount === 0
        ? `${of.minutes} min`
        : of.minutes === 0
          ? `${of.hourCount} h`
          : `${of.hourCount} h ${of.minutes} min`,
    need: {
      spread: 'spread',
      test: 'test',
      waiting: 'test',
      sanding: 'being sanded',
      unknown: 'no time yet',
    },
    since: (minutes: number) => `waiting ${minutes} min`,
    inMinutes: (minutes: number) => `in ${minutes} min`,
    promise: (clock: string) => `promised ${clock}`,
    spare: (duration: string) => `${duration} spare`,
    late: (duration: string) => `${duration} late`,
    tight: (duration: string) => `maybe ${duration} late`,
    lateFor: (duration: string, clock: string) => `${duration} too late for ${clock}`,
    tightFor: (duration: string, clock: string) => `May be ${duration} too late for ${clock}`,
    handsFor: (of: { duration: string; clock: string; who: string }) =>
      `${of.duration} too late for ${of.clock} if ${of.who} does it all`,
    help: 'What would help',
    lamp: (lamp: string, duration: string) => `${lamp}: done ${duration} sooner`,
    lampAt: (of: { lamp: string; distance: string; duration: string }) =>
      `${of.lamp} at ${of.distance}: done ${of.duration} sooner`,
    warmBay: (bay: string, duration: string) => `${bay} is warmer: done ${duration} sooner`,
    moreHands: ({ names, count }: { names: string; count: number }, duration: string) =>
      `More hands, ${names} ${counted(count, { one: 'needs', other: 'need' })} them too: done ${duration} sooner`,
    moreHandsNear: ({ names, count }: { names: string; count: number }) =>
      `More hands, ${names} ${counted(count, { one: 'needs', other: 'need' })} someone in the same minutes`,
    noHelp: 'No lamp, bay or hand here would make it. Tell the customer early.',
    and: ' and ',
    checks: { gums: (clock: string) => `gummed ${clock}`, powders: (clock: string) => `powdered ${clock}` },
    mixedAt: (clock: string) => `mixed ${clock}`,
    testLikely: (span: string) => `test likely ${span}`,
    partsAt: (build: string, edge: string) => `build ${build}, edge ${edge}`,
    doneAt: (clock: string) => `done about ${clock}`,
    legend: {
      window: 'test likely',
      rest: 'work left',
      flag: 'promise',
      gums: 'gummed',
    },
  },
};
