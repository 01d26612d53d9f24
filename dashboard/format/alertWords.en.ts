// The catalogue's part for alerts: one sentence a kind, and one for many of a kind in one line.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const alertWordsEn = {
  alert: {
    title: 'Alerts',
    test: (panel: string) => `Test ${panel}`,
    spreadBy: (panel: string) => `${panel} kicks soon`,
    waiting: (panel: string) => `${panel} waits to be tested`,
    slowing: (panel: string) => `${panel} takes longer`,
    condensation: (panel: string) => `${panel} is damp: dry and warm it before spreading`,
    tooCold: (panel: string) => `${panel} is too cold: warm the panel`,
    tooHot: (panel: string) => `${panel} gets too hot under the lamp`,
    sensorQuiet: (sensor: string) => `Sensor ${sensor} says nothing`,
    sensorBack: (sensor: string) => `Sensor ${sensor} is back`,
    since: (clock: string) => `since ${clock}`,
    moved: (from: string, to: string) => `test about ${to} instead of ${from}`,
    movedAway: (from: string) => `no time can be told instead of ${from}`,
    more: (count: number) => `and ${count} more`,
    fewer: 'Show fewer',
    outside: (count: number) =>
      counted(count, {
        one: '# more alert lies outside the filters.',
        other: '# more alerts lie outside the filters.',
      }),
    seenFor: (panel: string) => `Seen: ${panel}`,
  },
  alarm: {
    lockedBrief: 'No sound before a tap.',
    locked: 'This browser stays silent until somebody taps.',
    lockedWall: 'Silent until a key is pressed here',
    letRing: 'Let this device ring',
    shopSilent: 'Setup has switched the sound off for the whole shop.',
    noSound: 'This browser makes no sounds: the wall screen and the stack light are the alarm.',
    notify: {
      on: 'Notifications are on: they come while this page is in the background.',
      ask: 'Notifications come while this page is in the background, once you allow them.',
      denied:
        'Notifications are blocked in this browser. Its site settings can allow them. Until then the sound here, the wall screen and the stack light are the alarm.',
      insecure:
        'This address is not encrypted, so the browser allows neither notifications nor keeping the screen on. The sound here, the wall screen and the stack light are the alarm.',
      unsupported:
        'This browser has no notifications: the sound here, the wall screen and the stack light are the alarm.',
    },
  },
  alertOfMany: {
    waiting: (count: number) =>
      counted(count, { one: '# panel waits to be tested', other: '# panels wait to be tested' }),
    slowing: (count: number) =>
      counted(count, { one: '# panel takes longer', other: '# panels take longer' }),
    condensation: (count: number) => counted(count, { one: '# panel is damp', other: '# panels are damp' }),
    tooCold: (count: number) =>
      counted(count, { one: '# panel is too cold', other: '# panels are too cold' }),
    tooHot: (count: number) =>
      counted(count, {
        one: '# panel gets too hot under the lamp',
        other: '# panels get too hot under their lamps',
      }),
    sensorQuiet: (count: number) =>
      counted(count, { one: '# sensor says nothing', other: '# sensors say nothing' }),
    sensorBack: (count: number) => counted(count, { one: '# sensor is back', other: '# sensors are back' }),
  },
};
