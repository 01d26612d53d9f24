// The catalogue's part for Air: what the cold cost, why, and what a warmer morning would bring.
import type { ColdCause } from '../../server/contract/index.ts';
import { makeCounted } from './plural.ts';

/** The bounds that causes are told apart by, ready to be read. */
export interface CauseBounds {
  readonly fall: string;
  readonly rise: string;
}

const counted = makeCounted('en');

const causeHints: Readonly<Record<ColdCause, (bounds: CauseBounds) => string>> = {
  door: ({ fall }) =>
    `The air fell by more than ${fall} within 4 minutes, or as steeply between two readings, until it was back.`,
  'heating-off': ({ rise }) => `The bay got more than ${rise} warmer within the next 12 hours.`,
  'humid-spell': () =>
    '75 % and more for an hour; counts only for products whose card says that it slows them.',
  'cold-car': () => 'The car came in from outside.',
  'outdoor-cold': () => 'What is left: the bay did not reach the card’s temperature.',
};

export const airWordsEn = {
  airScreen: {
    bay: 'Bay',
    span: 'Time',
    day: 'Day',
    week: 'Week',
    before: { day: 'Day before', week: 'Week before' },
    after: { day: 'Next day', week: 'Next week' },
    loading: 'Reading the air…',
    working: 'Working it out…',
    network: 'No connection: the air cannot be read just now. Trying again by itself.',
    server: 'The shop computer cannot read the air just now. Trying again by itself.',
    noBays: 'This shop has no bay yet. Name one in the config file under "bays".',
    noReadings: (when: string, bay: string) => `${when}: no readings in ${bay}.`,
    noReadingsHint: 'Setup shows which sensors have spoken, and how to connect one.',
    noBatches: 'No batch cured here in this time, so the cold cost nothing. Mix one on Bench.',
    untimed: (count: number) =>
      counted(count, {
        one: 'One batch is left out: it had no readings, or was too cold to cure.',
        other: '# batches are left out: they had no readings, or were too cold to cure.',
      }),
    today: 'Today',
    yesterday: 'Yesterday',
    onDay: (day: string) => `On ${day}`,
    thisWeek: 'This week',
    lastWeek: 'Last week',
    inWeekOf: (day: string) => `In the week of ${day}`,
    cost: (of: { when: string; bay: string; minutes: string }) =>
      `${of.when} the cold in ${of.bay} cost ${of.minutes} of curing`,
    costNothing: (when: string, bay: string) => `${when} the cold in ${bay} cost no curing time.`,
    ofThem: (minutes: string, hours: string, days: string) => `; ${minutes} of them between ${hours}${days}.`,
    allOfThem: (hours: string, days: string) => `, all of it between ${hours}${days}.`,
    hours: (fromHour: string, toHour: string) => `${fromHour} and ${toHour}`,
    onDays: {
      workdays: { morning: ' on weekday mornings', later: ' on weekdays' },
      weekend: { morning: ' on weekend mornings', later: ' at weekends' },
    },
    minutes: (count: number) => counted(count, { one: '# minute', other: '# minutes' }),
    batches: (count: number) => counted(count, { one: '# batch', other: '# batches' }),
    slowTitle: 'Slowdown now',
    slowProduct: 'Product',
    times: (ratio: string) => `${ratio}×`,
    slowSentence: (of: { card: string; minutes: string; cardMinutes: string; atC: string }) =>
      `${of.card} takes ${of.minutes} here now; with everything at ${of.atC}, ${of.cardMinutes}.`,
    slowNone: 'No reading in the last 45 minutes, so nothing can be said of now.',
    causesTitle: 'Why',
    causes: {
      door: 'Door opened',
      'heating-off': 'Heating off, or not through yet',
      'humid-spell': 'Humid spell',
      'cold-car': 'Car rolled in cold',
      'outdoor-cold': 'Never warm enough',
    } satisfies Record<ColdCause, string>,
    causeHints,
    signal: (doorCount: number, humidHours: string) =>
      `${counted(doorCount, { one: '# door', other: '# doors' })} seen in the air; ${humidHours} h in humid spells.`,
    causesHow: 'How causes are told apart',
    ifTitle: 'If it were heated',
    ifFrom: 'From',
    ifTo: 'to',
    ifTemperature: 'At',
    ifSentence: (of: { minutes: string; whole: string; low: string; high: string }) =>
      `That takes away about ${of.minutes} of these ${of.whole}, likely ${of.low} to ${of.high}.`,
    ifNothing: 'That takes nothing away.',
    ifHow:
      'Each batch was solved again in that air; the range is what is not sure of the product: its pace and how much the cold slows it. The bay cools at once afterwards here, so a real one gains a little more.',
    ifNone: 'No batch to try it on in this time.',
    ifBand: (of: { low: string; middle: string; high: string; whole: string }) =>
      `Minutes taken away: one in ten ${of.low} or less, half ${of.middle}, nine in ten ${of.high} or less, of ${of.whole}.`,
    chartTitle: 'The air',
    chartLabel: (bay: string) =>
      `Air temperature, humidity and the panel’s distance to the dew point in ${bay}, with the times in which batches were open`,
    air: (unit: string) => `Air, ${unit}`,
    panel: (unit: string) => `Panel, ${unit}`,
    humidity: 'Humidity, %',
    distance: (unit: string) => `Panel above dew point, ${unit}`,
    hold: (degrees: string) => `below ${degrees}: do not spread`,
    open: 'batch open',
    table: 'The same as a table',
    time: 'Time',
    batchTable: 'Batches that cured here',
    batchPanel: 'Panel',
    batchAdded: 'Added, min',
    daysTitle: 'Added minutes a day',
    weeksTitle: 'Added minutes a week',
    mapTitle: 'When this bay is slow',
    mapSentence: (card: string) =>
      `How many times as long ${card} takes, by weekday and hour, over the last four weeks. A dot: batches lost minutes there.`,
    mapNone: 'not measured',
    mapScale: 'as on the card',
    mapScaleEnd: (ratio: string) => `${ratio} and more`,
    mapWeekday: 'Weekday',
    mapCell: (ratio: string, minutes: string | null) =>
      minutes === null ? ratio : `${ratio}, ${minutes} min lost`,
  },
};
