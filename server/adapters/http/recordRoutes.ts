// Records by HTTP: a page of them, one repair order, and everything as a table.
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { type Request, type Response, Router } from 'express';
import {
  instantFromIso,
  type Instant,
  isDay,
  parseWith,
  RECORD_PAGE,
  type RecordFilterQuery,
  recordFilterQuery,
  recordsQuery,
} from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { RecordBound, RecordFilter } from '../../domain/recordGroups.ts';
import { sendRejections, sendUnknown } from './problem.ts';
import { writeRecordsCsv } from './recordsCsv.ts';

/** Makes the routes of the records. */
export function makeRecordRoutes(doors: Doors): Router {
  const router = Router();
  router.get('/records', (request, response) => readRecords(doors, request, response));
  router.get('/records.csv', (request, response) => readTable(doors, request, response));
  router.get('/records/:repairOrder', async (request, response) => {
    const order = await doors.readRepairOrder(request.params['repairOrder']);
    if (order === null) sendUnknown(response, 'repair-order');
    else response.json(order);
  });
  return router;
}

async function readRecords(doors: Doors, request: Request, response: Response): Promise<void> {
  const query = parseWith(recordsQuery, { ...request.query });
  if (query.kind === 'rejected') return sendRejections(response, query.rejections);
  const { limit, before } = query.value;
  response.json(
    await doors.readRecords({
      filter: filterFrom(query.value),
      limit: limit === undefined ? RECORD_PAGE.usualCount : Number(limit),
      beforeAt: before === undefined ? null : instantFromIso(before),
    }),
  );
}

async function readTable(doors: Doors, request: Request, response: Response): Promise<void> {
  const query = parseWith(recordFilterQuery, { ...request.query });
  if (query.kind === 'rejected') return sendRejections(response, query.rejections);
  const lines = writeRecordsCsv(doors.readRecordRows(filterFrom(query.value)));
  // Headings and the first record before anything is sent: a store that cannot be read is a problem, not half a file.
  const begun = [await lines.next(), await lines.next()].flatMap(({ value }) =>
    typeof value === 'string' ? [value] : [],
  );
  response.set({
    'content-type': 'text/csv; charset=utf-8; header=present',
    'content-disposition': `attachment; filename="${fileNameOf(doors.nowAt())}"`,
    'cache-control': 'no-store',
  });
  try {
    await pipeline(Readable.from(joined(begun, lines)), response);
  } catch (error) {
    // Whoever goes away in the middle of it has changed their mind; that is no fault.
    if ((error as { code?: unknown }).code !== 'ERR_STREAM_PREMATURE_CLOSE') throw error;
  }
}

async function* joined(begun: readonly string[], rest: AsyncIterable<string>): AsyncGenerator<string> {
  yield* begun;
  yield* rest;
}

function fileNameOf(nowAt: Instant): string {
  return `sandby-records-${new Date(nowAt).toISOString().slice(0, 10)}.csv`;
}

function filterFrom(query: RecordFilterQuery): RecordFilter {
  return {
    from: boundFrom(query.from),
    to: boundFrom(query.to),
    cardId: query.cardId ?? null,
    by: query.by ?? null,
    bayId: query.bayId ?? null,
    stage: query.stage ?? null,
    text: query.text ?? null,
  };
}

function boundFrom(text: string | undefined): RecordBound | null {
  if (text === undefined) return null;
  return isDay(text) ? { kind: 'day', day: text } : { kind: 'instant', at: instantFromIso(text) as Instant };
}
