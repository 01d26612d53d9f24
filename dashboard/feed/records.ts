// Reads records when a screen asks for them: a page, one repair order, the honest figures.
import type { RecordsWire, ReliabilityWire, RepairOrderWire } from '../../server/contract/index.ts';
import type { RecordsAnswer } from '../state/records.ts';
import { getJson } from './http.ts';

const UNKNOWN_STATUS = 404;

/** A page of records for a query: "text=door&limit=20". */
export function readRecords(query: string): Promise<RecordsAnswer<RecordsWire>> {
  return read(query === '' ? '/records' : `/records?${query}`);
}

/** All records of a repair order. */
export function readOrder(repairOrder: string): Promise<RecordsAnswer<RepairOrderWire>> {
  return read(`/records/${encodeURIComponent(repairOrder)}`);
}

/** How often what was promised came true. */
export function readPromises(): Promise<RecordsAnswer<ReliabilityWire>> {
  return read('/reliability');
}

async function read<Body>(path: string): Promise<RecordsAnswer<Body>> {
  const answer = await getJson(path);
  switch (answer.kind) {
    case 'answered':
      return { kind: 'read', body: answer.body as Body };
    case 'unanswered':
      return { kind: 'failed' };
    case 'refused':
      return answer.status === UNKNOWN_STATUS
        ? { kind: 'unknown' }
        : { kind: 'refused', error: answer.problem.errors?.[0] ?? { path: '', reason: '', allowed: '' } };
  }
}
