// The catalogue's part for copies that are kept beside the store.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const copyWordsEn = {
  keptCopies: {
    title: 'Kept on this computer',
    daily: (of: { time: string; count: number; folder: string }) =>
      `Each day at ${of.time} the shop makes a copy by itself. ${counted(of.count, {
        one: 'The last one stays',
        other: 'The last # stay',
      })}, in the folder “${of.folder}”.`,
    everyDays: (of: { dayCount: number; time: string; count: number; folder: string }) =>
      `Every ${counted(of.dayCount, { one: 'day', other: '# days' })} at ${of.time} the shop makes a copy by itself. ${counted(
        of.count,
        { one: 'The last one stays', other: 'The last # stay' },
      )}, in the folder “${of.folder}”.`,
    everyHours: (of: { hours: string; count: number; folder: string }) =>
      `Every ${of.hours} h the shop makes a copy by itself. ${counted(of.count, {
        one: 'The last one stays',
        other: 'The last # stay',
      })}, in the folder “${of.folder}”.`,
    last: 'Last good copy',
    none: 'none yet',
    next: 'Next',
    soon: 'within a few minutes',
    line: (of: { when: string; size: string }) => `${of.when}, ${of.size}`,
    make: 'Make a copy now',
    making: 'Making a copy…',
    kept: (when: string) => `The copy of ${when} is good and kept.`,
    failed: (of: { when: string; why: string }) =>
      `On ${of.when} no copy could be made: ${of.why} It is tried again by itself.`,
    why: {
      noRoom: 'there is too little room on the disk.',
      notWritten: 'its folder cannot be written.',
      damaged: 'what was copied is damaged. Restore the newest good copy.',
      unfinished: 'it was cut short.',
    },
    noAnswer: 'No connection to the shop computer. Try again when it is back.',
    list: (count: number) => counted(count, { one: 'The one copy', other: 'All # copies' }),
    download: 'Download',
    downloadOf: (when: string) => `Download the copy of ${when}`,
    restore:
      'To go back to one, stop the program on the shop computer and run “npm run --silent restore -- FILE”. What is there now is kept beside it.',
  },
};
