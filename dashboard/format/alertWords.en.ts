// The catalogue's part for alerts: one sentence a kind, and one for many of a kind in one line.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const alertWordsEn = {
  alert: {
    title: 'Alerts',
    test: (panel: string) => `Test ${panel}`,
    spreadBy: (panel: string) => `${panel} kicks soon`,
    waiting: (panel: string) => `${panel} waits to be tested`,
    slowing: (panel: string) => `${panel} takes longer than it was to take`,
    condensation: (panel: string) => `${panel} is damp: dry and warm it before spreading`,
    tooCold: (panel: string) => `${panel} is too cold: warm the panel`,
    tooHot: (panel: string) => `${panel} gets too hot under the lamp`,
    sensorQuiet: (sensor: string) => `Sensor ${sensor} says nothing`,
    sensorBack: (sensor: string) => `Sensor ${sensor} is back`,
    since: (clock: string) => `since ${clock}`,
    more: (count: number) => `and ${count} more`,
    seenFor: (panel: string) => `Seen: ${panel}`,
  },
  alertOfMany: {
    waiting: (count: number) =>
      counted(count, { one: '# panel waits to be tested', other: '# panels wait to be tested' }),
    slowing: (count: number) =>
      counted(count, {
        one: '# panel takes longer than it was to take',
        other: '# panels take longer than they were to take',
      }),
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
