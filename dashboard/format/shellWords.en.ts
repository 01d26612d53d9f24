// The catalogue's part for the frame around the screens: connection, header, settings, help.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const shellWordsEn = {
  connection: {
    lost: 'No connection. The countdowns go on from the last estimate.',
    keptCount: (count: number) =>
      counted(count, { one: '# tap is kept and sent later.', other: '# taps are kept and sent later.' }),
    dropped: (act: string, panel: string) =>
      `Too old to send after 30 minutes: ${act}, ${panel}. Please enter it again.`,
    degraded: 'Nothing can be stored just now.',
    degradedKept: 'Taps are kept here and sent later.',
    store: {
      full: 'Disk full: nothing new is stored. Make room on the shop computer.',
      'read-only': 'The disk cannot be written: nothing new is stored. Make it writable.',
      locked: 'Another program holds the shop’s file: nothing new is stored. Close it.',
      disk: 'The disk is at fault: nothing new is stored. Have the shop computer looked at.',
      damaged:
        'The shop’s file is damaged: what you enter may be lost. Stop the program and restore the newest copy.',
      failed: 'Nothing can be stored just now. It is tried again by itself.',
    },
    brokerGone:
      'Sensors have no way in by MQTT: estimates go on from the last readings. It is tried again by itself.',
    outboxLate: 'Messages to phones or programs have not got through for over ten minutes: see Setup.',
    degradedHint: 'The shop computer cannot read or store its batches. Trying again by itself.',
  },
  header: {
    air: 'Air in the bays',
    noAir: 'no reading',
    age: (minutes: number) => `${minutes} min old`,
    menu: 'Settings',
    person: (initials: string | null) => (initials === null ? 'Everyone' : initials),
    simulated: (speed: string) => `Simulated shop, ${speed}×`,
    simulatedRun: 'Run your own shop',
    skip: 'Skip to the batches',
    soundOn: 'Sound on',
    soundOff: 'Sound off',
    soundTap: 'Tap for sound',
    screens: 'Screens',
  },
  menu: {
    title: 'This device',
    person: 'Who uses it',
    noPerson: 'Nobody in particular',
    personTyped: 'Other initials',
    look: 'Light or dark',
    lookAuto: 'As the device',
    lookLight: 'Light',
    lookDark: 'Dark',
    language: 'Language',
    languageAuto: 'As the browser',
    languageMissing: (language: string) =>
      `${language} could not be loaded: no connection. It comes by itself when the connection is back.`,
    unitAuto: 'As the shop',
    temperature: 'Temperature',
    length: 'Thickness and length',
    lengthMetric: 'mm, cm',
    lengthInches: 'in',
    mass: 'Weight',
    alarm: 'Alarm',
    sound: 'Sound and vibration',
    notify: 'Allow notifications',
    trySound: 'Try the sound',
  },
  help: {
    title: 'Run your own shop',
    intro:
      'What you see is a shop of our own invention, played faster than life, so that you can try everything.',
    step: 'Stop the program, then start it with a file that describes your shop:',
    command: 'npm start -- --config config/shop.example.json',
    after:
      'That file has two bays and two sensors and runs as it is. Give it your bays, your sensors, your products and your time zone.',
  },
};
