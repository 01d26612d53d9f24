// The reason on the slip, in the running program: each day has one known cause, and the sentence must name it.
import { afterEach, describe, expect, it } from 'vitest';
import { formatReason } from '../../dashboard/format/reason.ts';
import { METRIC } from '../../dashboard/format/units.ts';
import { wordsEn } from '../../dashboard/format/wholeWords.en.ts';
import type { BatchWire, StartBatchWire } from '../../server/contract/index.ts';
import { getJson, postJson } from '../support/http.ts';
import { runServer, type RunningServer } from '../support/runServer.ts';

/** A film as thin as the card's own, in a shop as warm as the card's: nothing to explain. */
const CARD_FILM: StartBatchWire = {
  cardId: 'finishing-putty',
  panel: 'Left front door',
  bayId: 'bay-1',
  thicknessMm: 0.5,
  substrate: 'steel',
};
const MS_PER_MIN = 60_000;
let server: RunningServer;

afterEach(async () => {
  await server.stop();
});

interface Cause {
  readonly cause: string;
  /** The air of the last eight hours. */
  readonly airTemperatureC: number;
  readonly start?: () => Partial<StartBatchWire>;
  readonly next?: (batch: BatchWire) => Promise<void>;
  readonly code: string;
  readonly sentence: RegExp;
}

const causes: readonly Cause[] = [
  {
    cause: 'a cold bay',
    airTemperatureC: 11,
    code: 'bay-cold',
    sentence: /^Bay 1 is 11 °C: \d+ minutes slower than the card$/,
  },
  {
    cause: 'a warm bay',
    airTemperatureC: 28,
    code: 'bay-warm',
    sentence: /^Bay 1 is 28 °C: \d+ minutes faster than the card$/,
  },
  {
    cause: 'a car that came in from the frost',
    airTemperatureC: 20,
    start: () => ({ rolledInAt: ago(10), outdoorTemperatureC: -8 }),
    code: 'car-cold',
    sentence: /^The car came in cold, its panel at \d+ °C: \d+ minutes? slower than the card$/,
  },
  {
    cause: 'half the hardener',
    airTemperatureC: 20,
    start: () => ({ hardenerPct: 1 }),
    code: 'hardener',
    sentence: /^1 % hardener: \d+ minutes slower than the card$/,
  },
  {
    cause: 'a thick film whose thin edge is left behind',
    airTemperatureC: 20,
    start: () => ({ cardId: 'body-filler', thicknessMm: 3 }),
    code: 'edge',
    sentence: /^The thin edge is last: \d+ minutes after the build$/,
  },
  {
    cause: 'a lamp',
    airTemperatureC: 20,
    start: () => ({ mixedAt: ago(7) }),
    next: async ({ id }) => {
      await command(id, { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: 6, at: ago(5) });
    },
    code: 'lamp',
    sentence: /^Under the lamp: \d+ minutes? faster than the card$/,
  },
  {
    cause: 'a product that is slow in this shop',
    airTemperatureC: 20,
    next: teachSlowly,
    code: 'product',
    sentence: /^Finishing putty in this shop: \d+ minutes slower than the card$/,
  },
];

describe('the reason in the running program', () => {
  it.each(causes)('names $cause', async ({ airTemperatureC, start, next, code, sentence }) => {
    server = await runServer();
    await sayAir(airTemperatureC);
    const started = await startBatch({ ...CARD_FILM, ...start?.() });
    await next?.(started);
    const id = code === 'product' ? (await startBatch(CARD_FILM)).id : started.id;
    const batch = (await getJson(server.address, `/batches/${id}`)).body as unknown as BatchWire;
    const reasons = batch.estimate?.reasons ?? [];
    expect(reasons[0]?.code).toBe(code);
    const parts = reasons.reduce((sum, { minutes }) => sum + minutes, 0);
    expect(Math.abs(17.5 + parts - (batch.estimate?.expectedMin ?? 0))).toBeLessThan(0.4);
    expect(sentenceOf(batch)).toMatch(sentence);
  });
});

/** The sentence as the slip shows it. */
function sentenceOf(batch: BatchWire): string {
  const name = batch.cardId === 'body-filler' ? 'Body filler' : 'Finishing putty';
  const sentence = formatReason(batch, {
    words: wordsEn,
    place: { locale: 'en-GB', timeZone: 'UTC', units: METRIC },
    bayName: (bayId) => bayId.replace('bay-', 'Bay '),
    card: { name, sandMin: 17.5, lowestC: 10 },
  });
  return String(sentence).replaceAll('\u00a0', ' ');
}

/** Ten batches of the morning that each gummed for long after the card's time, by a third. */
async function teachSlowly(first: BatchWire): Promise<void> {
  await command(first.id, { type: 'scrap' });
  for (let index = 0; index < 10; index += 1) {
    const mixedMin = 420 - 35 * index;
    const { id } = await startBatch({ ...CARD_FILM, mixedAt: ago(mixedMin) });
    await command(id, { type: 'recordCheck', outcome: 'gums', at: ago(mixedMin - 22) });
    await command(id, { type: 'recordCheck', outcome: 'powders', at: ago(mixedMin - 25) });
    await command(id, { type: 'finishSanding', at: ago(mixedMin - 30) });
  }
}

async function sayAir(airTemperatureC: number): Promise<void> {
  const readings = Array.from({ length: 97 }, (_, index) => ({
    sensorId: 'bay-1-air',
    at: ago(5 * (96 - index)),
    // A sensor that says the same to the bit for hours would be doubted.
    airTemperatureC: airTemperatureC + (index % 2 === 0 ? 0.05 : -0.05),
    relativeHumidityPct: 50 + (index % 3),
  }));
  const reply = await postJson({ address: server.address, path: '/readings' }, readings);
  expect(reply.body).toMatchObject({ recorded: 97, setAside: [] });
}

async function startBatch(body: StartBatchWire): Promise<BatchWire> {
  const reply = await postJson({ address: server.address, path: '/batches' }, body);
  expect(reply).toMatchObject({ status: 201 });
  return reply.body as unknown as BatchWire;
}

async function command(id: string, body: Record<string, unknown>): Promise<void> {
  const reply = await postJson({ address: server.address, path: `/batches/${id}/commands` }, body);
  expect(reply).toMatchObject({ status: 200 });
}

function ago(durationMin: number): string {
  return new Date(Date.now() - durationMin * MS_PER_MIN).toISOString();
}
