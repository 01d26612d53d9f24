// The table of records, read back by a parser of its own: RFC 4180, units in headings, no formula that runs.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvLine, writeRecordsCsv } from '../../../server/adapters/http/recordsCsv.ts';
import type { RecordWire } from '../../../server/contract/index.ts';
import { makeRecord } from '../../support/makeRecord.ts';
import { parseCsv } from '../../support/parseCsv.ts';

async function tableOf(...records: RecordWire[]): Promise<string[][]> {
  const pieces: string[] = [];
  for await (const piece of writeRecordsCsv(streamOf(records))) pieces.push(piece);
  const text = pieces.join('');
  expect(text.codePointAt(0)).toBe(0xfe_ff);
  return parseCsv(text.slice(1));
}

async function* streamOf(records: readonly RecordWire[]): AsyncGenerator<RecordWire> {
  yield* records;
}

async function rowOf(record: RecordWire): Promise<Record<string, string>> {
  const [headings = [], cells = []] = await tableOf(record);
  return Object.fromEntries(headings.map((heading, index) => [heading, cells[index] ?? '']));
}

describe('the table of records', () => {
  it('says the unit or the zone in the heading of every column that has one', async () => {
    const [headings = []] = await tableOf();
    expect(headings).toContain('mixed at (UTC)');
    expect(headings).toContain('thickness (mm)');
    expect(headings).toContain('air at mixing (°C)');
    expect(headings.filter((heading) => / at\b(?! mixing)/.test(heading) && !heading.includes('('))).toEqual(
      [],
    );
    expect(new Set(headings).size).toBe(headings.length);
  });

  it('tells a batch in numbers with a dot and instants that spreadsheets know', async () => {
    expect(await rowOf(makeRecord())).toMatchObject({
      'repair order': '4711',
      panel: 'Left front door',
      product: 'Body filler',
      'thickness (mm)': '2',
      'hardener weighed': 'no',
      bay: 'Bay 1 > Bay 2',
      'air at mixing (°C)': '-3.5',
      'humidity at mixing (%RH)': '55',
      'mixed at (UTC)': '2026-01-12 07:00:00',
      'test P50 at (UTC)': '2026-01-12 07:25:00',
      'stated probability at first check (%)': '20.1',
      'powdered after P50 (min)': '2',
      'checks (UTC)': '2026-01-12 07:21:00 gums (AB); 2026-01-12 07:27:00 powders, not the first try (CD)',
      'largest cause against the card': 'bay-cold 7.3 min',
      'everyone on it': 'AB CD',
    });
  });

  it('leaves empty what is not known', async () => {
    const bare = makeRecord({
      repairOrder: null,
      window: null,
      said: null,
      checks: [],
      spreadAt: null,
      air: { mixingC: null, whileCuringMinC: null, whileCuringMaxC: null, humidityMixingPct: null },
    });
    expect(await rowOf(bare)).toMatchObject({
      'repair order': '',
      'test P50 at (UTC)': '',
      'first check': '',
      'checks (UTC)': '',
      'spread at (UTC)': '',
      'air at mixing (°C)': '',
      'largest cause against the card': '',
    });
  });

  it('gives any panel and order back, a spreadsheet formula behind an apostrophe', async () => {
    await fc.assert(
      fc.asyncProperty(nastyText, nastyText, async (panel, repairOrder) => {
        const row = await rowOf(makeRecord({ panel, repairOrder }));
        expect(row['panel']).toBe(defused(panel));
        expect(row['repair order']).toBe(defused(repairOrder));
        expect(row['panel']).not.toMatch(/^[=+\-@\t]/);
      }),
      { seed: 20260112, numRuns: 300 },
    );
  });

  it.each([
    ['=HYPERLINK("http://x","a")', `"'=HYPERLINK(""http://x"",""a"")"\r\n`],
    ['+1', "'+1\r\n"],
    ['-1', "'-1\r\n"],
    ['@SUM(A1)', "'@SUM(A1)\r\n"],
    ['\t=1', "'\t=1\r\n"],
    ['a=1', 'a=1\r\n'],
    ['a, "b"\r\nc', '"a, ""b""\r\nc"\r\n'],
  ])('writes the text %j as %j', (text, line) => {
    expect(csvLine([text])).toBe(line);
  });

  it('leaves numbers below zero alone: they are no formula', () => {
    expect(csvLine([-3.5, 0, null, true])).toBe('-3.5,0,,yes\r\n');
  });
});

const nastyText = fc.string({
  unit: fc.constantFrom(
    '=',
    '+',
    '-',
    '@',
    '\t',
    '"',
    ',',
    '\r',
    '\n',
    "'",
    ';',
    'a',
    'é',
    '…',
    '𝄞',
    ' ',
    '0',
  ),
  maxLength: 12,
});

function defused(text: string): string {
  return '=+-@\t\r'.includes(text.slice(0, 1)) && text !== '' ? `'${text}` : text;
}
