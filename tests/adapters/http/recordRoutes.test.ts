// Records by HTTP over a real shop in memory: pages, one order, the table, and what a wrong question is told.
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import express from 'express';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeRecordRoutes } from '../../../server/adapters/http/recordRoutes.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import type { Ledger } from '../../../server/application/ports/ledger.ts';
import type { RecordsWire, RepairOrderWire } from '../../../server/contract/index.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { parseCsv } from '../../support/parseCsv.ts';
import { act, openTestShop, sayAir, start, type TestShop } from '../../support/testShop.ts';

let test: TestShop;
let server: Server;
let address: string;
/** The next read of batch views fails when true. */
let isBroken = false;

beforeAll(async () => {
  test = await openTestShop();
  const broken: Ledger = {
    ...test.shop.ledger,
    readViews: (kind, which) => {
      if (isBroken) throw new PortFailure('ledger', 'readViews', { isRetriable: true });
      return test.shop.ledger.readViews(kind, which);
    },
  };
  await playMorning();
  const doors = makeDoors({ ...test.shop, ledger: broken }, { version: '0', refused: () => [] });
  const app = express();
  app.use(makeRecordRoutes(doors));
  app.use(((_error, _request, response, _next) => {
    response.status(503).end();
  }) satisfies express.ErrorRequestHandler);
  server = createServer(app).listen(0, '127.0.0.1');
  await new Promise((done) => server.once('listening', done));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => {
  server.close();
});

/** Two coats for one repair order in a cold bay, a roof without order, one mis-tap. */
async function playMorning(): Promise<void> {
  await sayAir(test, 12, { relativeHumidityPct: 60 });
  const first = await start(test, { repairOrder: 'RO 47/11', by: 'AB', promisedAt: undefined });
  await test.clock.moveBy(10);
  await sayAir(test, 14, { relativeHumidityPct: 58 });
  await test.clock.moveBy(15);
  await act(test, first.id, { type: 'recordCheck', outcome: 'gums', by: 'AB' });
  await test.clock.moveBy(10);
  await act(test, first.id, { type: 'recordCheck', outcome: 'powders', firstTry: false, by: 'CD' });
  await test.clock.moveBy(5);
  await act(test, first.id, { type: 'finishSanding', by: 'CD' });
  const roof = await start(test, { panel: '=Roof, "left"', by: 'CD' });
  await test.clock.moveBy(1);
  await act(test, roof.id, { type: 'scrap', by: 'CD' });
  const mistap = await start(test, { panel: 'Sill' });
  await act(test, mistap.id, { type: 'undo', factSequence: mistap.lastAct?.factSequence ?? 0 });
  await test.clock.moveBy(1);
  await start(test, { repairOrder: 'RO 47/11', cardId: 'finishing-putty', thicknessMm: 0.5, by: 'CD' });
}

async function get(path: string): Promise<{ status: number; body: unknown; headers: Headers; text: string }> {
  const response = await fetch(`${address}${path}`);
  // Taken as bytes, since text() would drop the mark at its beginning.
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(await response.arrayBuffer());
  const isJson = response.headers.get('content-type')?.includes('json') === true;
  return { status: response.status, body: isJson ? JSON.parse(text) : null, headers: response.headers, text };
}

async function records(query = ''): Promise<RecordsWire> {
  const { status, body } = await get(`/records${query}`);
  expect(status).toBe(200);
  return body as RecordsWire;
}

describe('records', () => {
  it('lie by repair order, newest first, and know no batch whose start was undone', async () => {
    const { batchCount, groups, nextBefore } = await records();
    expect([batchCount, nextBefore]).toEqual([3, null]);
    expect(
      groups.map(({ repairOrder, batches }) => [
        repairOrder,
        batches.map(({ cardName, stage }) => [cardName, stage]),
      ]),
    ).toEqual([
      [
        'RO 47/11',
        [
          ['Finishing putty', 'wet'],
          ['Body filler', 'sanded'],
        ],
      ],
      [null, [['Body filler', 'scrapped']]],
    ]);
  });

  it('tell what the window had said and what happened, the air, who, and the cautions', async () => {
    const { groups } = await records('?stage=sanded');
    const [batch] = groups[0]?.batches ?? [];
    expect(batch).toMatchObject({
      air: { mixingC: 12, whileCuringMinC: 12, whileCuringMaxC: 14, humidityMixingPct: 60 },
      stays: [{ bayId: 'bay-1', bayName: 'Bay 1' }],
      checks: [
        { outcome: 'gums', by: 'AB' },
        { outcome: 'powders', firstTry: false, by: 'CD' },
      ],
      said: {
        firstCheckAt: '2026-01-12T07:25:00.000Z',
        outcome: 'gums',
        powderedAt: '2026-01-12T07:35:00.000Z',
      },
      by: { mixed: 'AB', spread: null, closed: 'CD', everyone: ['AB', 'CD'] },
      cautions: { acknowledgedAt: '2026-01-12T07:00:00.000Z', by: 'AB' },
    });
    expect(batch?.said?.probability).toBeGreaterThan(0);
    expect(batch?.said?.probability).toBeLessThan(1);
    expect(Date.parse(String(batch?.window?.p50At))).toBeGreaterThan(Date.parse('2026-01-12T07:15:00Z'));
  });

  it('come page by page', async () => {
    const first = await records('?limit=1');
    expect(first.groups.map(({ repairOrder }) => repairOrder)).toEqual(['RO 47/11']);
    const second = await records(`?limit=1&before=${encodeURIComponent(String(first.nextBefore))}`);
    expect(second.groups.map(({ panel }) => panel)).toEqual(['=Roof, "left"']);
    expect(second.nextBefore).toBeNull();
  });

  it.each([
    ['?from=2026-01-13', 0],
    ['?from=2026-01-12&to=2026-01-12', 3],
    ['?to=2026-01-12T07%3A30%3A00Z', 1],
    ['?by=ab', 1],
    ['?bayId=bay-2', 0],
    ['?cardId=finishing-putty', 1],
    ['?text=putty', 1],
  ])('asked by %s are %i', async (query, count) => {
    expect((await records(query)).batchCount).toBe(count);
  });

  it.each([
    ['?limit=0', 'limit', '1 … 100'],
    ['?limit=1e2', 'limit', '1 … 100'],
    ['?limit=101', 'limit', '1 … 100'],
    ['?limit=2&limit=3', 'limit', 'a text'],
    ['?from=yesterday', 'from', 'a day of the shop'],
    ['?from=2026-02-30', 'from', 'a day of the shop'],
    ['?from=2026-01-13&to=2026-01-12', 'from', 'not after to'],
    ['?before=noon', 'before', 'ISO 8601'],
    ['?stage=cooking', 'stage', 'wet, kicked'],
    ['?text=', 'text', 'at least 1 character'],
    ['?by=ABCDEFGHI', 'by', 'at most 8'],
    ['?order=4711', 'order', 'leave it out'],
  ])('asked by %s are refused with the field and what it takes', async (query, path, allowed) => {
    const { status, body } = await get(`/records${query}`);
    expect(status).toBe(400);
    const { errors } = body as { errors: { path: string; reason: string; allowed: string }[] };
    expect(errors[0]?.path).toBe(path);
    expect(errors[0]?.allowed).toContain(allowed);
    expect(errors[0]?.reason).not.toBe('');
  });
});

describe('a repair order', () => {
  it('has all its batches on one page in the order they were mixed, its name with a stroke in it', async () => {
    const { status, body } = await get(`/records/${encodeURIComponent('RO 47/11')}`);
    expect(status).toBe(200);
    const { repairOrder, batches } = body as RepairOrderWire;
    expect(repairOrder).toBe('RO 47/11');
    expect(batches.map(({ cardId }) => cardId)).toEqual(['body-filler', 'finishing-putty']);
  });

  it.each(['/records/nobody', '/records/=Roof'])('that nobody knows is a 404: %s', async (path) => {
    expect(await get(path)).toMatchObject({ status: 404, body: { code: 'unknown-repair-order' } });
  });
});

describe('the table', () => {
  it('comes as a file with a name, with the same filters', async () => {
    const { status, headers, text } = await get('/records.csv?by=CD');
    expect(status).toBe(200);
    expect(headers.get('content-type')).toMatch(/^text\/csv; charset=utf-8/);
    expect(headers.get('content-disposition')).toBe('attachment; filename="sandby-records-2026-01-12.csv"');
    expect(text.startsWith('\uFEFF')).toBe(true);
    const [headings = [], ...rows] = parseCsv(text.slice(1));
    expect(rows).toHaveLength(3);
    expect(rows.map((row) => row[headings.indexOf('panel')])).toContain(`'=Roof, "left"`);
  });

  it('has its headings alone where nothing matches, and refuses a page size', async () => {
    expect(parseCsv((await get('/records.csv?text=nothing')).text.slice(1))).toHaveLength(1);
    expect((await get('/records.csv?limit=3')).status).toBe(400);
  });

  it('is a problem and no empty file while the store cannot be read', async () => {
    isBroken = true;
    const { status, headers } = await get('/records.csv');
    isBroken = false;
    expect(status).toBe(503);
    expect(headers.get('content-disposition')).toBeNull();
  });
});
