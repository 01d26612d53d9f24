// The catalogue's part for the frame around the screens: connection, header, settings, help, setup.
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
    degradedKept: 'What you enter is kept on this device and sent as soon as the shop computer can store it.',
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
  setup: {
    title: 'Sensors',
    none: 'No sensor has spoken yet.',
    unknown: 'Not known: its readings are kept aside',
    lastSeen: 'Last message',
    never: 'never',
    refused: 'Messages that could not be read',
    refusedNone: 'None.',
    connectTitle: 'Connect a sensor in five minutes',
    connect: [
      'Name the sensor and its bay in the config file under "sensors", then start the program again.',
      'Point the sensor at this computer, MQTT port 1883, topic sandby/v1/readings/ followed by its name.',
      'Send an object such as {"airTemperatureC": 18.4, "relativeHumidityPct": 52}, once a minute.',
      'Or send the same object with its "sensorId" by HTTP to /api/v1/readings.',
      'It appears in this list with its last message. A name that is not known is listed too, and kept aside.',
    ],
    products: 'Products',
    productsIntro: 'What the tins say, and what your own closed batches have shown since.',
    cardSays: (minutes: string, temperature: string) => `The card says ${minutes} min at ${temperature}.`,
    learnedNothing: 'No closed batch has taught anything yet: test by hand, and say when it gums.',
    learned: (batchCount: number, minutes: string) =>
      counted(batchCount, {
        one: `Your last batch says ${minutes} min.`,
        other: `Your last # batches say ${minutes} min.`,
      }),
    learnedNever: 'By your last batches it would not get sandable there.',
    doubling: (degrees: string) => `Twice that for each ${degrees} colder.`,
    scatter: (percent: string) => `One batch differs from the next by about ${percent}.`,
    promises: 'How good the estimates were stands in Records',
    loading: 'Reading…',
    failed: 'This could not be read.',
    again: 'Read it again',
  },
};
