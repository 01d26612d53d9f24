// Every text of the screens in English, as one typed catalogue; a second language is a second file of this type.
import { accessWordsEn } from './accessWords.en.ts';
import { airWordsEn } from './airWords.en.ts';
import { alertWordsEn } from './alertWords.en.ts';
import { benchWordsEn } from './benchWords.en.ts';
import type { copyWordsEn } from './copyWords.en.ts';
import { floorWordsEn } from './floorWords.en.ts';
import { notifyWordsEn } from './notifyWords.en.ts';
import type { Language } from './language.ts';
import { makeCounted } from './plural.ts';
import { recordsWordsEn } from './recordsWords.en.ts';
import type { setupWordsEn } from './setupWords.en.ts';
import { shellWordsEn } from './shellWords.en.ts';
import { troubleWordsEn } from './troubleWords.en.ts';

const counted = makeCounted('en');
const minutesText = (count: number): string => counted(count, { one: '# minute', other: '# minutes' });

/** What every page may need from its first moment on; what Setup alone says comes with its chunk (wholeWords.en.ts). */
export const firstWordsEn = {
  ...shellWordsEn,
  ...accessWordsEn,
  ...recordsWordsEn,
  ...airWordsEn,
  ...alertWordsEn,
  ...floorWordsEn,
  ...notifyWordsEn,
  ...benchWordsEn,
  ...troubleWordsEn,
  language: 'en' as Language,
  unit: { min: 'min' },
  screen: { bench: 'Bench', floor: 'Floor', air: 'Air', records: 'Records', setup: 'Setup' },
  stage: {
    wet: 'Wet',
    kicked: 'Kicked',
    test: 'Test',
    sanding: 'Sanding',
    sanded: 'Sanded',
    scrapped: 'Scrapped',
  },
  countdown: {
    spreadWithin: 'spread within',
    stopSpreading: 'Stop spreading',
    stopSpreadingTail: 'this mix should have kicked',
    testIn: 'test in',
    testNow: 'Test now',
    waiting: (minutes: number) => `waiting ${minutes} min`,
    sandingFor: 'for',
    pending: 'Working it out',
    noTime: 'No time yet',
    closed: 'Done',
  },
  noTime: {
    pending: 'The first estimate is on its way.',
    stalled: 'At this temperature it does not cure through.',
    unknown: 'No time can be told for this batch.',
  },
  reason: {
    againstCard: (minutes: number) =>
      minutes < 0
        ? `${minutesText(-minutes)} faster than the card`
        : `${minutesText(minutes)} slower than the card`,
    asOnCard: (minutes: number) => `Just as the card says: ${minutesText(minutes)} from mixing`,
    bay: (of: { bay: string; air: string | null; isCold: boolean; against: string }) =>
      `${of.bay} is ${of.air ?? (of.isCold ? 'cold' : 'warm')}: ${of.against}`,
    car: (of: { panel: string | null; isCold: boolean; against: string }) =>
      `The car came in ${of.isCold ? 'cold' : 'warm'}${of.panel === null ? '' : `, its panel at ${of.panel}`}: ${of.against}`,
    edgeLast: (minutes: number) => `The thin edge is last: ${minutesText(minutes)} after the build`,
    edge: (against: string) => `The thin edge is last: ${against}`,
    film: (of: { thickness: string; isFaster: boolean; against: string }) =>
      of.isFaster
        ? `${of.thickness} warms itself as it cures: ${of.against}`
        : `${of.thickness} makes little heat of its own: ${of.against}`,
    hardener: (dose: string, against: string) => `${dose} hardener: ${against}`,
    lamp: (isFaster: boolean, against: string) =>
      isFaster ? `Under the lamp: ${against}` : `It has to cool down from the lamp: ${against}`,
    product: (card: string, against: string) => `${card} in this shop: ${against}`,
  },
  note: {
    noAir: (bay: string, cardMin: string | null) =>
      `No reading from ${bay} yet, so no time can be told.${cardMin === null ? '' : ` The card says ${cardMin} min.`}`,
    airGap: (bay: string) => `${bay} was silent for a while: the window is wider for it.`,
    airStale: (bay: string) => `No fresh reading from ${bay}: take the times as a guess.`,
    tooCold: (lowest: string | null) =>
      `Colder than the product allows${lowest === null ? '' : ` (${lowest})`}. Warm the panel; the times are a guess.`,
    gummed: (clock: string | null) =>
      clock === null
        ? 'It gummed, so the window is a new one.'
        : `It gummed at ${clock}, so the window is a new one.`,
    'humidity-assumed': 'No humidity reading: 50 % is assumed.',
    stalled: 'Too cold to cure through within 12 hours. Warm the panel.',
    'condensation-hold': 'The panel is close to the dew point. Do not spread: dry and warm it first.',
    'too-hot': 'The panel gets too hot. Move the lamp back: blisters and pinholes.',
    'hardener-low': 'Little hardener: it may never cure through.',
    'hardener-high': 'A lot of hardener: it may bleed through the paint.',
    'film-thick': 'A thick film: better in two layers.',
  },
  window: {
    build: 'build',
    edge: 'edge',
    now: 'now',
    likely: 'test likely',
    description: (of: { p10: string; p50: string; p90: string; now: string; mixed: string }) =>
      `Mixed ${of.mixed}, now ${of.now}. One in ten powders by ${of.p10}, half by ${of.p50}, nine in ten by ${of.p90}.`,
    descriptionParts: (build: string, edge: string) => ` Build ${build}, edge ${edge}.`,
  },
  slip: {
    soon: 'soon',
    order: (order: string) => `RO ${order}`,
    made: (card: string, thickness: string) => `${card}, ${thickness}`,
    by: (initials: string) => `by ${initials}`,
    lampOn: (clock: string) => `Lamp until ${clock}`,
    kept: (act: string, clock: string) => `Kept: ${act} ${clock}. Sent when the connection is back.`,
    keptStart: (clock: string) => `Mixed ${clock}. It starts counting when the connection is back.`,
  },
  act: {
    markSpread: 'Spread',
    testIt: 'Test it',
    gums: 'Gums',
    powders: 'Powders',
    finishSanding: 'Sanded',
    scrap: 'Scrap',
    moveToBay: 'Move',
    switchLamp: 'Lamp',
    undo: 'Undo',
    startBatch: 'Mixed',
    more: 'More',
    back: 'Back',
    close: 'Close',
    firstTry: 'First try?',
    firstTryHint: 'No, if it gummed before and nobody noted it.',
    yes: 'Yes',
    no: 'No',
    seen: 'Seen',
    sending: 'Sending…',
    gumsHint: 'loads the paper',
    powdersHint: 'dry dust',
  },
  more: {
    done: 'When it was done',
    ago: (minutes: number) => (minutes === 0 ? 'now' : `${minutes} min ago`),
    move: 'Move to another bay',
    moveTo: 'Bay',
    moveButton: 'Move it',
    lamp: 'Lamp',
    lampWhich: 'Which lamp',
    lampDistance: 'Distance',
    lampMinutes: 'Minutes, 0 is off',
    lampButton: 'Switch it on',
    lampOffButton: 'Switch it off',
    warmer: (bay: string) => `If ${bay} were warmer`,
    warmerBy: (degrees: string) => `+${degrees}`,
    noLamps: 'No lamp is set up in this shop.',
    scrap: 'Scrap this batch',
    scrapSure: 'Scrap it? Its countdown ends for good.',
    scrapYes: 'Yes, scrap it',
    keepIt: 'Keep it',
    undoLast: (act: string, clock: string) => `Undo "${act}" of ${clock}`,
    undoNone: 'Nothing to undo: an act can be undone for 10 minutes.',
    nextLayer: 'Next layer',
    nextLayerHint: 'The same panel again, with this layer underneath.',
    air: 'Air in this bay since mixing',
    airShow: 'Show the air',
    airNone: 'No readings since mixing.',
    airLoading: 'Reading the air…',
    airTable: 'The same as a table',
    airTime: 'Time',
    airTemperature: (unit: string) => `Air, ${unit}`,
    panelTemperature: (unit: string) => `Panel, ${unit}`,
    airHumidity: 'Humidity, %',
  },
  effect: {
    pending: 'Working out what it would bring…',
    network: 'No connection: what it would bring cannot be told just now.',
    server: 'The shop computer cannot tell just now what it would bring.',
    noTime: 'No time could be told then.',
    testNow: 'Test now, with or without it.',
    test: (clock: string) => `Test at about ${clock}.`,
    same: (clock: string) => `No difference: test at about ${clock}.`,
    changed: (of: { clock: string; before: string; laterMin: number }) =>
      `Test at about ${of.clock} instead of ${of.before}: ${minutesText(Math.abs(of.laterMin))} ${of.laterMin < 0 ? 'earlier' : 'later'}.`,
  },
  actDone: {
    markSpread: (panel: string) => `${panel}: spread`,
    recordCheck: (panel: string) => `${panel}: check noted`,
    finishSanding: (panel: string) => `${panel}: sanded`,
    scrap: (panel: string) => `${panel}: scrapped`,
    moveToBay: (panel: string) => `${panel}: moved`,
    switchLamp: (panel: string) => `${panel}: lamp noted`,
    undo: (panel: string) => `${panel}: undone`,
    startBatch: (panel: string) => `${panel}: mixed`,
  },
  factName: {
    BatchStarted: 'Mixed',
    BatchSpread: 'Spread',
    BatchMoved: 'Moved',
    LampSwitched: 'Lamp',
    CheckRecorded: 'Check',
    SandingStarted: 'Powders',
    BatchSanded: 'Sanded',
    BatchScrapped: 'Scrapped',
  },
  mix: {
    open: 'Mix',
    again: 'Same again',
    title: 'Mix',
    againTitle: 'Same again',
    layerTitle: 'Next layer',
    product: 'Product',
    panel: 'Panel',
    otherPanel: 'Other panel',
    thickness: 'Thickness',
    skim: 'skim',
    start: 'Start',
    change: 'Change something',
    details: 'Details',
    bay: 'Bay',
    substrate: 'Under the filler',
    substrates: { steel: 'Steel', aluminium: 'Aluminium', plastic: 'Plastic' },
    hardener: 'Hardener, %',
    weighed: 'Hardener was weighed',
    order: 'Repair order',
    by: 'By (initials)',
    underlay: (unit: string) => `Old filler underneath, ${unit}`,
    mixedAgo: 'Mixed',
    coldCar: 'The car was rolled in from outside',
    rolledInAgo: 'Rolled in, minutes ago',
    outdoor: (unit: string) => `Outside, ${unit}`,
    amount: 'How much to mix for a spot',
    spotLength: (unit: string) => `Length, ${unit}`,
    spotWidth: (unit: string) => `Width, ${unit}`,
    filler: 'filler',
    hardenerWord: 'hardener',
    beadWord: 'of bead',
    beadGuide: 'The bead is as long as your weighed one says: weigh the hardener where it matters.',
    beadUnweighed: 'For the length of a bead, this shop’s own has to be weighed once:',
    beadWeigh: 'weigh 10 cm in Setup',
    working: (minutes: string, atC: string) => `Spread it within about ${minutes} min (card, at ${atC})`,
    today: (of: { bay: string; spread: string; test: string }) =>
      `In ${of.bay} now: spread within about ${of.spread}, test after about ${of.test}`,
    cardHint: (of: { minutes: string; atC: string }) => `${of.minutes} min at ${of.atC}`,
    panelMissing: 'choose one',
    layerOffer: (below: string) => `Next layer, on ${below}`,
    underneath: (thickness: string) => `${thickness} underneath`,
    tooThick: (thickness: string) => `Over ${thickness}: better in two layers.`,
  },
  caution: {
    title: 'Before you start',
    vapour: 'Styrene vapour: ventilate and wear a fitting respirator.',
    peroxide: 'Peroxide hardener: gloves and eye protection; away from heat, metals and accelerators.',
    dosing: 'Measure the hardener, weigh it when unsure.',
    dust: 'Dust: extract it and wear a dust mask.',
    leftover: 'Left-over mix heats itself: spread it thin, never into a closed bin.',
    short:
      'Ventilate, respirator, gloves, eye protection, dust extraction. Measure the hardener, spread left-over mix thin.',
    acknowledge: 'Starting notes that you have read the cautions.',
    decide:
      "The product's data sheet, your local rules and your trained people decide; this program only helps to time the work.",
  },
  bench: {
    empty: 'Nothing is curing.',
    emptyHint: 'Mix a batch to start its countdown.',
    emptyMine: 'None of the open batches is yours.',
    mine: 'Mine',
    everyone: 'Everyone',
    whose: 'Whose batches',
    openCount: (count: number) => counted(count, { one: '# open batch', other: '# open batches' }),
    loading: 'Reading the shop…',
    unreachable: 'The shop cannot be reached.',
    unreachableHint: 'The program may be off, or this device is not on its network. Trying again by itself.',
  },
  title: { idle: 'Bench', with: (countdown: string, panel: string) => `${countdown} · ${panel}` },
};

/** The shape every language fills. */
export type Words = typeof firstWordsEn & typeof setupWordsEn & typeof copyWordsEn;
