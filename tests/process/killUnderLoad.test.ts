// Pulled plug under load: a hundred readings and five acts a second, and SIGKILL at random moments. What was answered is
// there, once; what was not is asked again under its key; the ledger has no gap and the views are those of the facts. At night
// it happens over a year of data. The seed of the moments is printed; SANDBY_SEED chooses it.
import { DatabaseSync } from '@photostructure/sqlite';
import { execFileSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { drawBetween, makeRandom } from '../../sensors-sim/random.ts';
import { instantFromMs } from '../../server/contract/index.ts';
import { fillYear } from '../support/fillYear.ts';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';
import { type Desk, makeDesk } from './killDesk.ts';
import { makeSensors, type Sensors } from './killSensors.ts';

const KILLS_COUNT = countFor({ usual: 6, nightly: 200 });
const PAST_DAYS = countFor({ usual: 1, nightly: 365 });
const SEED = Number(process.env['SANDBY_SEED'] ?? 8);
const ACT_EVERY_MS = 200;
const LIVES_MIN_MS = 150;
const LIVES_MAX_MS = 1300;
const GONE_MS = 100;

const running: RunningServer[] = [];

afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.stop('SIGKILL')));
});

describe('a kill at a random moment under load', () => {
  it(
    `loses nothing that was answered and does nothing twice, ${KILLS_COUNT} times`,
    { timeout: 60_000 + KILLS_COUNT * 15_000 },
    async () => {
      const random = makeRandom(SEED, 'kills');
      const dataFolder = makeTempFolder();
      const past = await fillPast(dataFolder);
      const desk = makeDesk(random.nextFraction);
      const sensors = makeSensors();
      const startedMs: number[] = [];
      for (let kill = 0; kill < KILLS_COUNT; kill += 1) {
        const server = await startAgain(dataFolder, startedMs);
        const answered = desk.acts.filter(({ reply }) => (reply?.status ?? 500) < 300);
        await desk.askAgain(server.address);
        await expectSameAnswers(server.address, answered.slice(-5));
        await liveFor(drawBetween(random, [LIVES_MIN_MS, LIVES_MAX_MS]), { server, desk, sensors });
        running.pop();
      }
      const server = await startAgain(dataFolder, startedMs);
      await desk.askAgain(server.address);
      expect(desk.acts.filter(({ reply }) => reply === null)).toEqual([]);
      const done = desk.acts.filter(({ reply }) => (reply?.status ?? 500) < 300);
      await expectSameAnswers(server.address, done);
      expect(await server.stop()).toBe(0);
      tell({ desk, sensors, startedMs, past });
      expectFactsOnce({ dataFolder, past }, desk);
      expectReadingsOnce({ dataFolder, past }, sensors);
      expect(differencesAfterRebuild(dataFolder)).toEqual([]);
      expect(done.length).toBeGreaterThan(KILLS_COUNT);
      expect(sensors.acknowledged.size).toBeGreaterThan(KILLS_COUNT);
    },
  );
});

interface Past {
  readonly factCount: number;
  readonly readingCount: number;
  readonly sizeMb: number;
  /** Everything after it [ms since the epoch] is of this test. */
  readonly untilAt: number;
}

interface Kept {
  readonly dataFolder: string;
  readonly past: Past;
}

/** Fills the store with days that are over. */
async function fillPast(dataFolder: string): Promise<Past> {
  const file = join(dataFolder, 'sandby.sqlite');
  const untilAt = Date.now();
  const size = { days: PAST_DAYS, batchesADayCount: 10, untilAt: instantFromMs(untilAt), seed: SEED };
  const counts = await fillYear(file, size);
  return { ...counts, sizeMb: Math.round(statSync(file).size / 1e6), untilAt };
}

/** Starts over what the kill left; the time until it answers is printed at the end. */
async function startAgain(dataFolder: string, startedMs: number[]): Promise<RunningServer> {
  const begunMs = performance.now();
  const server = await runServer({ dataFolder });
  running.push(server);
  const health = await getJson(server.address, '/health');
  startedMs.push(performance.now() - begunMs);
  expect([health.status, health.body['status']]).toEqual([200, 'ok']);
  return server;
}

async function liveFor(
  durationMs: number,
  { server, desk, sensors }: { server: RunningServer; desk: Desk; sensors: Sensors },
): Promise<void> {
  const sending = await sensors.sendTo(server);
  const acting = setInterval(() => void desk.act(server.address), ACT_EVERY_MS);
  void desk.act(server.address);
  await new Promise((resolve) => setTimeout(resolve, durationMs));
  await server.stop('SIGKILL');
  clearInterval(acting);
  sending.stop();
  // Answers that were on their way come or fail.
  await new Promise((resolve) => setTimeout(resolve, GONE_MS));
}

/** The same key gets the answer that it got before. */
async function expectSameAnswers(address: string, acts: Desk['acts']): Promise<void> {
  for (const { key, path, body, reply } of acts) {
    const again = await postJson({ address, path }, body, { 'idempotency-key': key });
    expect([key, again.status, again.body]).toEqual([key, reply?.status, reply?.body]);
  }
}

interface FactRow {
  readonly sequence: number;
  readonly type: string;
  readonly batchId: string | null;
  readonly body: string;
}

/** Each act that was answered has left its fact once, no act that was refused has left one, and no number is missing. */
function expectFactsOnce({ dataFolder, past }: Kept, desk: Desk): void {
  const facts = readRows<FactRow>(
    dataFolder,
    `SELECT sequence, type, batch_id AS batchId, body FROM facts WHERE sequence > ${past.factCount} ORDER BY sequence`,
  );
  expect(facts.map(({ sequence }) => sequence)).toEqual(facts.map((_, index) => past.factCount + index + 1));
  const left = facts.map(({ type, batchId, body }) => {
    if (type === 'BatchStarted') return type;
    const { alertId, factSequence } = JSON.parse(body) as { alertId?: string; factSequence?: number };
    // "Powders" and the sanding that it began are taken back together: each by the fact that it was.
    if (type === 'FactUndone') return `${type} ${factSequence}`;
    return type === 'AlertAcknowledged' ? `${type} ${alertId}` : `${type} ${batchId}`;
  });
  const done = desk.acts.filter(({ reply }) => (reply?.status ?? 500) < 300);
  const acts = new Set(['BatchStarted', ...desk.acts.map(({ fact }) => fact)]);
  for (const name of acts)
    expect([name, countOf(left, name)]).toEqual([
      name,
      countOf(
        done.map(({ fact }) => fact),
        name,
      ),
    ]);
  const raised = facts
    .filter(({ type }) => type === 'AlertRaised')
    .map(({ body }) => (JSON.parse(body) as { alertId: string }).alertId);
  expect(new Set(raised).size).toBe(raised.length);
  expect([...desk.alertIds].filter((id) => !raised.includes(id))).toEqual([]);
}

function expectReadingsOnce({ dataFolder, past }: Kept, { acknowledged }: Sensors): void {
  const rows = readRows<{ sensorId: string; at: number; count: number }>(
    dataFolder,
    `SELECT sensor_id AS sensorId, at, count(*) AS count FROM readings
     WHERE quantity = 'airTemperatureC' AND at >= ${past.untilAt} GROUP BY sensor_id, at`,
  );
  const stored = new Map(
    rows.map(({ sensorId, at, count }) => [`${sensorId} ${new Date(at).toISOString()}`, count]),
  );
  expect([...acknowledged].filter((name) => stored.get(name) !== 1)).toEqual([]);
  expect([...stored.values()].filter((count) => count !== 1)).toEqual([]);
}

function countOf(names: readonly string[], name: string): number {
  return names.filter((one) => one === name).length;
}

function readRows<Row>(dataFolder: string, sql: string): Row[] {
  const database = new DatabaseSync(join(dataFolder, 'sandby.sqlite'), { readOnly: true });
  try {
    return database.prepare(sql).all() as Row[];
  } finally {
    database.close();
  }
}

function differencesAfterRebuild(dataFolder: string): unknown {
  const flags = ['dist/server/rebuild.js', '--config', 'config/shop.example.json'];
  const env = { ...process.env, SANDBY_DATA: dataFolder };
  const told = execFileSync(process.execPath, flags, { env, encoding: 'utf8' });
  return (JSON.parse(told) as { differences: unknown }).differences;
}

function tell({
  desk,
  sensors,
  startedMs,
  past,
}: {
  desk: Desk;
  sensors: Sensors;
  startedMs: readonly number[];
  past: Past;
}): void {
  const sorted = startedMs.toSorted((a, b) => a - b);
  const at = (part: number): string => (sorted[Math.floor(part * (sorted.length - 1))] ?? 0).toFixed(0);
  process.stdout.write(
    `${KILLS_COUNT} kills over ${PAST_DAYS} days (${past.readingCount} readings, ${past.factCount} facts, ${past.sizeMb} MB), ` +
      `seed ${SEED}: ${sensors.acknowledged.size} of ${sensors.sentCount} readings acknowledged, ` +
      `${desk.acts.length} acts; start to HTTP 200 in ${at(0.5)} ms, longest ${at(1)} ms\n`,
  );
}
