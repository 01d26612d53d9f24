// The catalogue's part for Records: what was kept, what the windows had said, and how good they were.
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');
const batchesText = (count: number): string => counted(count, { one: '# batch', other: '# batches' });

export const recordsWordsEn = {
  records: {
    title: 'Records',
    count: (count: number) => (count === 0 ? 'No batch' : batchesText(count)),
    matching: (count: number) => (count === 0 ? 'No batch matches' : `${batchesText(count)} found`),
    loading: 'Reading the records…',
    failed: 'The records could not be read. The connection may be gone, or the shop computer busy.',
    again: 'Read them again',
    empty: 'Nothing is kept yet.',
    emptyHint: 'Mix a batch on Bench: from its start on, everything that happens to it stands here.',
    emptyAct: 'Go to Bench',
    noMatch: 'No batch matches.',
    noMatchHint: 'Take away a filter, or look at other days.',
    clear: 'Show everything',
    older: 'Show older ones',
    table: 'Table (CSV)',
    print: 'Print',
    back: 'All records',
    filters: {
      title: 'Filter',
      active: (count: number) => `Filter, ${count} in use`,
      from: 'From day',
      to: 'To day',
      product: 'Product',
      bay: 'Bay',
      by: 'Person (initials)',
      text: 'Panel, repair order, anything',
      any: 'Any',
      find: 'Find',
      wrongSpan: 'This day lies after the last one.',
      wrongText: (allowed: string | null) =>
        allowed === null ? 'Not searched.' : `Not searched: ${allowed}.`,
    },
    order: (order: string) => `RO ${order}`,
    openOrder: (order: string) => `All of RO ${order} on one page`,
    noOrder: 'no repair order',
    unknownOrder: (order: string) => `No batch was mixed for repair order ${order}.`,
    promised: (clock: string) => `promised for ${clock}`,
    whole: 'The whole record',
    made: (product: string, thickness: string) => `${product}, ${thickness}`,
    gums: 'gums',
    powders: 'powders',
    band: (of: { mixed: string; p10: string; p50: string; p90: string; checks: readonly string[] }) =>
      `Mixed ${of.mixed}. The window of before the first test ran from ${of.p10} to ${of.p90}, half by ${of.p50}. ${
        of.checks.length === 0 ? 'Not tested.' : `Tested: ${of.checks.join(', ')}.`
      }`,
    said: {
      untested: 'Not tested yet.',
      closedUntested: 'Closed without a test.',
      almostSurely: (share: string) => `over ${share}`,
      hardly: (share: string) => `under ${share}`,
      gummed: 'it gummed',
      powdered: 'it powdered',
      first: (of: { clock: string; share: string; outcome: string }) =>
        `First test ${of.clock}: the window said ${of.share}, ${of.outcome}`,
      firstBare: (of: { clock: string; outcome: string }) =>
        `First test ${of.clock}, without a window: ${of.outcome}`,
      later: (clock: string) => `It powdered at ${clock}`,
      early: 'earlier than the window',
      inside: 'inside the window',
      late: 'later than the window',
    },
    part: {
      mix: 'Mix',
      air: 'Bay and air',
      times: 'Times',
      checks: 'Tests by hand',
      people: 'Who',
      window: 'Why this window',
      cautions: 'Cautions',
    },
    mix: {
      hardener: (pct: string, isWeighed: boolean) =>
        `${pct} hardener, ${isWeighed ? 'weighed' : 'by the bead'}`,
      underlay: (thickness: string) => `${thickness} of filler underneath`,
      noUnderlay: 'on the bare panel',
      lamp: (from: string, until: string) => `Lamp from ${from} to ${until}`,
    },
    air: {
      mixing: (temperature: string, humidity: string | null) =>
        `${temperature}${humidity === null ? '' : `, ${humidity} humidity`} at mixing`,
      curing: (low: string, high: string) => `${low === high ? low : `${low} to ${high}`} while it cured`,
      none: 'No readings from this bay.',
      moved: (bay: string, clock: string) => `moved to ${bay} at ${clock}`,
    },
    times: {
      mixed: 'Mixed',
      spread: 'Spread',
      window: 'Window',
      windowText: (p10: string, p50: string, p90: string) => `${p10} – ${p50} – ${p90}`,
      windowHint: 'one in ten, half, nine in ten',
      alert: 'Called to test',
      sanding: 'Sanding began',
      sanded: 'Sanded',
      scrapped: 'Scrapped',
    },
    checks: {
      none: 'None.',
      firstTry: 'first try',
      notFirstTry: 'not the first try',
      line: (of: { clock: string; outcome: string; tries: string | null; by: string | null }) =>
        [of.clock, of.outcome, of.tries, of.by].filter((part) => part !== null).join(', '),
    },
    people: {
      mixed: 'Mixed by',
      spread: 'Spread by',
      closed: 'Closed by',
      nobody: 'Nobody signed.',
    },
    cautions: (clock: string, by: string | null) =>
      `Acknowledged with Start at ${clock}${by === null ? '' : ` by ${by}`}.`,
    estimates: {
      title: 'How good the estimates were',
      intro: 'Before each first test: how sure the window was, against how often it then powdered.',
      none: 'No closed batch has been tested yet. Say “gums” or “powders” at each test, and this fills by itself.',
      picture: (lines: readonly string[]) =>
        `Stated probability against how often it powdered, with 95 % bounds. ${lines.join(' ')}`,
      pictureBin: (of: {
        from: string;
        to: string;
        powderedCount: number;
        count: number;
        low: string;
        high: string;
      }) =>
        `Said ${of.from} to ${of.to}: ${of.powderedCount} of ${of.count} powdered, bounds ${of.low} to ${of.high}.`,
      stated: 'the window said',
      happened: 'powdered',
      perfect: 'as promised',
      ofCount: (powdered: number, count: number) => `${powdered}/${count}`,
      promise: (powderedCount: number, count: number) =>
        `${powderedCount} of ${count} films powdered when they were first tested after the alert`,
      promiseShare: (of: { share: string; low: string; high: string; asked: string }) =>
        `${of.share}, likely between ${of.low} and ${of.high}; the shop asks for ${of.asked}.`,
      promiseNone: 'No film was tested after a “test” alert yet.',
      errors: 'Error of “it powders now”',
      errorsHint: (halfScore: string) => `Brier score: 0 is perfect, always saying half gets ${halfScore}.`,
      windows: 'these windows',
      timer: 'a timer at the tin’s minutes',
      doubling: 'the doubling rule',
      unknown: 'not known yet',
      tableOpen: 'The same as a table',
      column: {
        said: 'Said',
        mean: 'On average',
        powdered: 'Powdered',
        bounds: '95 % bounds',
      },
    },
  },
};
