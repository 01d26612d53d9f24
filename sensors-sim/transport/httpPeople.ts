// The HTTP door as people use it: what the screens show, mixes and acts, each act under a key of its own.
import {
  type BatchWire,
  batchSchema,
  type Instant,
  instantFromIso,
  problemSchema,
  snapshotSchema,
} from '../../server/contract/index.ts';
import type { Act } from '../people/crew.ts';
import { pause } from './pause.ts';

/** The server cannot be reached or cannot take anything now; trying again later may help. */
export class ServerAway extends Error {}

export interface Shown {
  readonly ledgerId: string;
  readonly nowAt: Instant;
  readonly rate: number;
  readonly timeZone: string;
  readonly newestReadingAt: Instant | null;
  readonly batches: readonly BatchWire[];
}

export type Answer =
  | { readonly kind: 'done'; readonly batchId: string | null }
  | { readonly kind: 'refused'; readonly status: number; readonly code: string };

export interface HttpPeople {
  readSnapshot(): Promise<Shown>;
  readOpenBatches(): Promise<readonly BatchWire[]>;
  /** Does an act; batchId is null for a mix, which has none yet. */
  send(act: Act, to: { ledgerId: string; batchId: string | null }): Promise<Answer>;
}

/** People at a server's address. */
export function makeHttpPeople(httpUrl: string): HttpPeople {
  const api = `${httpUrl}/api/v1`;
  return {
    readSnapshot: async () => shownFrom(await readJson(`${api}/snapshot`)),
    readOpenBatches: async () => batchesFrom(await readJson(`${api}/batches?open=true`)),
    send: async (act, { ledgerId, batchId }) => {
      const path =
        act.kind === 'start' ? '/batches' : `/batches/${encodeURIComponent(batchId ?? '')}/commands`;
      const headers = {
        'content-type': 'application/json',
        'idempotency-key': `sim-${ledgerId}-${act.key}-${act.kind}-${act.at}`.replaceAll(/[^\w:.-]/g, '-'),
      };
      return answerFrom(await ask(api + path, { method: 'POST', headers, body: JSON.stringify(act.body) }));
    },
  };
}

function shownFrom(body: unknown): Shown {
  const parsed = snapshotParts.safeParse(body);
  const nowAt = parsed.success ? instantFromIso(parsed.data.nowAt) : null;
  if (!parsed.success || nowAt === null) throw new ServerAway('its snapshot is not one');
  const { ledgerId, rate, shop, bays, batches } = parsed.data;
  const spokenAts = bays.flatMap(({ at }) => instantFromIso(at ?? '') ?? []);
  const newestReadingAt = spokenAts.length === 0 ? null : (Math.max(...spokenAts) as Instant);
  return { ledgerId, nowAt, rate, timeZone: shop.timeZone, newestReadingAt, batches };
}

function batchesFrom(body: unknown): BatchWire[] {
  const list = (body as { batches?: unknown } | null)?.batches;
  if (!Array.isArray(list)) throw new ServerAway('its list of batches is not one');
  return list.flatMap((each: unknown) => batchSchema.safeParse(each).data ?? []);
}

async function answerFrom(response: Response): Promise<Answer> {
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return { kind: 'done', batchId: (body as { id?: string } | null)?.id ?? null };
  if (response.status >= 500 || response.status === 429)
    throw new ServerAway(`it answers ${response.status}`);
  const code = problemSchema.safeParse(body).data?.code ?? 'no code';
  return { kind: 'refused', status: response.status, code };
}

async function readJson(url: string): Promise<unknown> {
  const response = await ask(url, {});
  if (!response.ok) throw new ServerAway(`it answers ${response.status}`);
  return response.json().catch(() => null);
}

/** One request, tried again a few times at once: a restart of the server takes about a second. */
async function ask(url: string, init: RequestInit): Promise<Response> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await fetch(url, { ...init, signal: AbortSignal.timeout(ANSWER_MS) });
    } catch {
      if (attempt >= ATTEMPTS_MAX) throw new ServerAway('it does not answer');
      await pause(AGAIN_MS);
    }
  }
}

/** All that is needed of a snapshot: what else it holds may change freely. */
const snapshotParts = snapshotSchema.pick({
  ledgerId: true,
  nowAt: true,
  rate: true,
  shop: true,
  bays: true,
  batches: true,
});
const ANSWER_MS = 5000;
const AGAIN_MS = 300;
const ATTEMPTS_MAX = 3;
