// The catalogue's part for what leaves the pages: Setup's part for it, and the choice on a phone.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const notifyWordsEn = {
  notify: {
    intro: 'Alerts leave this page in three ways: to phones, to other programs, and to a stack light.',
    trial: 'Try',
    trialOf: (name: string) => `Try ${name}`,
    trying: 'Trying…',
    tried: 'It got through.',
    trialText: 'A trial: the shop calls like this.',
    failed: (why: string) => `It did not get through: ${why}.`,
    unanswered: 'The shop computer did not answer. Try again in a moment.',
    phones: 'Phones and other devices',
    phonesNone:
      'Nobody’s phone is called yet. Open this page on it over an encrypted address (https), and choose “Call this device” under “This device”.',
    phoneOf: (who: string) => `Phone of ${who}`,
    phoneOfAll: 'Phone for everybody’s calls',
    phoneFact: (of: { screens: readonly string[]; service: string }) =>
      `${of.screens.join(', ')}; by ${of.service}`,
    phoneSince: (when: string) => `since ${when}`,
    endPhone: 'Stop calling',
    endPhoneOf: (name: string) => `Stop calling: ${name}`,
    hooks: 'Other programs (webhooks)',
    hooksNone:
      'No program is told yet. Add the address of one that takes messages, such as the shop’s automation or a chat.',
    hookName: 'Name',
    hookUrl: 'Address',
    hookUrlHint: 'http:// or https://. Each alert is posted there as JSON, and so is its end.',
    hookEvents: 'Told of',
    hookKinds: {
      all: 'Everything',
      calls: 'Calls: spread, test',
      warnings: 'Warnings',
      own: 'Its own choice',
    },
    addHook: 'Add a program',
    removeHook: 'Take out',
    removeHookOf: (name: string) => `Take ${name} out`,
    secret: 'New secret',
    secretOf: (name: string) => `New secret for ${name}`,
    secretNone: 'no secret shown yet',
    secretSince: (when: string) => `secret of ${when}`,
    secretShown: (name: string) =>
      `The secret by which ${name} knows that a message is ours. It is shown this once: copy it now. The one before no longer holds.`,
    secretDone: 'I have copied it',
    lost: 'What did not get through',
    lostNone: 'Nothing: all that was to be told was told.',
    waiting: (count: number) => counted(count, { one: '# message waits.', other: '# messages wait.' }),
    waitingSince: (minutes: number) =>
      counted(minutes, {
        one: 'The oldest has waited for # minute.',
        other: 'The oldest has waited for # minutes.',
      }),
    lostLine: (of: { what: string; to: string }) => `“${of.what}” to ${of.to}`,
    lostEnd: (of: { what: string; to: string }) => `The end of “${of.what}” to ${of.to}`,
    lostWhy: (of: { count: number; why: string }) =>
      counted(of.count, { one: `# try: ${of.why}`, other: `# tries: ${of.why}` }),
    again: 'Send again',
    againOf: (what: string) => `Send again: ${what}`,
    forget: 'Forget',
    forgetOf: (what: string) => `Forget: ${what}`,
    trouble: {
      timeout: 'no answer within 10 seconds',
      unreachable: 'nobody answers at that address',
      unknownHost: 'there is no computer of that name',
      forbiddenAddress: 'the address lies inside the shop’s own network',
      tls: 'its certificate is not to be trusted',
      redirect: (status: number) => `it sends on to another address (${status})`,
      status: (status: number) => `it answered with ${status}`,
      gone: 'it says that nobody is there any more',
    },
    light: 'A stack light, by MQTT',
    lightHint:
      'A light that speaks MQTT listens to one topic a bay. The message stays there, so that the light is right as soon as it is switched on:',
    lightWords: {
      off: 'nothing cures there',
      wait: 'a film cures',
      test: 'a panel is worth testing',
      stop: 'a panel is damp, too cold or too hot',
    },
    batches: 'Each open batch stands there too, as JSON, until it is closed:',
  },
  push: {
    title: 'While the page is closed',
    screens: 'Called for',
    screensOf: {
      bench: 'Bench: my batches',
      floor: 'Bench and Floor',
      all: 'Everything',
    },
    call: 'Call this device',
    stop: 'Do not call this device any more',
    on: 'This device is called, also while the page is closed.',
    onFor: (who: string) => `It takes the calls of ${who}.`,
    onForAll: 'It takes everybody’s calls, since no person is chosen above.',
    off: 'It can be called while the page is closed, through the push service of this browser’s maker. What is said is encrypted for this device alone.',
    busy: 'One moment…',
    denied: 'Notifications are blocked in this browser, so it cannot be called.',
    insecure: 'This address is not encrypted, so the browser does not let this device be called.',
    unsupported:
      'This browser cannot be called while the page is closed. On an iPhone, put the page on the home screen first.',
    failed: 'The browser’s push service could not be reached. Try again when there is internet.',
  },
};
