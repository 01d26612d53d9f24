// A copy taken while the shop is busy restores to a state that existed: the facts up to some moment, and every reading that was
// acknowledged before the copy was asked for.
import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import mqtt from 'mqtt';
import { expect, it } from 'vitest';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const FLAGS = ['--config', 'config/shop.example.json'];
const BATCH = { cardId: 'body-filler', panel: 'Bonnet', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };
const READINGS_A_SECOND_COUNT = 100;
const COMMANDS_A_SECOND_COUNT = 5;
/** As many as the shop keeps: each is restored afterwards. */
const COPIES_COUNT = countFor({ usual: 2, nightly: 14 });

interface Load {
  readonly acknowledged: Set<number>;
  readonly accepted: string[];
  /** Ends it, and waits for what is under way. */
  stop(): Promise<void>;
}

it('restores to a state that existed, with all that had been acknowledged', async () => {
  const dataFolder = makeTempFolder();
  const server = await runServer({ dataFolder });
  const { address } = server;
  const load = await startLoad(address, server.mqttPort);
  const copies: { name: string; readingsBefore: number[]; batchesBefore: number }[] = [];
  for (let copy = 0; copy < COPIES_COUNT; copy += 1) {
    await wait(1200);
    const [readingsBefore, batchesBefore] = [[...load.acknowledged], load.accepted.length];
    const { status, body } = await postJson({ address, path: '/copies' }, {});
    expect(status).toBe(201);
    copies.push({ name: String(body['name']), readingsBefore, batchesBefore });
  }
  await load.stop();
  expect(await server.stop()).toBe(0);
  for (const { name, readingsBefore, batchesBefore } of copies) {
    const folder = makeTempFolder();
    const restored = spawnSync(
      process.execPath,
      ['dist/server/restore.js', join(dataFolder, 'copies', name), ...FLAGS],
      { cwd: ROOT, env: { ...process.env, SANDBY_DATA: folder }, encoding: 'utf8' },
    );
    expect([restored.status, restored.stderr]).toEqual([0, '']);
    // The views of a copy are of the same moment as its facts.
    expect(restored.stdout).not.toContain('rebuilt');
    const facts = factsIn(folder);
    expect(facts).toEqual(factsIn(dataFolder).slice(0, facts.length));
    const kept = new Set(readingNumbersIn(folder));
    expect(readingsBefore.filter((number) => !kept.has(number))).toEqual([]);
    const started = facts.filter((fact) => fact.includes('"BatchStarted"')).length;
    expect(started).toBeGreaterThanOrEqual(batchesBefore);
    process.stdout.write(
      `copy under load: ${facts.length} facts, ${kept.size} readings, ${started} batches\n`,
    );
  }
  const last = new Set(readingNumbersIn(dataFolder));
  expect([...load.acknowledged].filter((number) => !last.has(number))).toEqual([]);
});

async function startLoad(address: string, mqttPort: number): Promise<Load> {
  await postJson({ address, path: '/readings' }, { sensorId: 'bay-1-air', airTemperatureC: 20 });
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${mqttPort}`);
  const [acknowledged, accepted] = [new Set<number>(), [] as string[]];
  const underWay = new Set<Promise<unknown>>();
  const track = (work: Promise<unknown>): void => {
    underWay.add(work);
    void work.finally(() => underWay.delete(work));
  };
  let number = 0;
  const readings = setInterval(() => {
    for (let index = 0; index < READINGS_A_SECOND_COUNT / 20; index += 1) {
      const sent = number;
      number += 1;
      const payload = JSON.stringify({ at: new Date(FIRST_MS + sent).toISOString(), airTemperatureC: 18 });
      const published = client.publishAsync('sandby/v1/readings/bay-2-air', payload, { qos: 1 });
      track(published.then(() => acknowledged.add(sent)));
    }
  }, 50);
  const mix = async (): Promise<void> => {
    const { status, body } = await postJson({ address, path: '/batches' }, BATCH);
    if (status === 201) accepted.push(String(body['id']));
  };
  const commands = setInterval(() => track(mix()), 1000 / COMMANDS_A_SECOND_COUNT);
  return {
    acknowledged,
    accepted,
    async stop() {
      clearInterval(readings);
      clearInterval(commands);
      await Promise.all(underWay);
      await client.endAsync();
      expect((await getJson(address, '/health')).status).toBe(200);
    },
  };
}

const FIRST_MS = Date.now() - 3_600_000;

function factsIn(folder: string): string[] {
  return rowsIn(folder, 'SELECT * FROM facts ORDER BY sequence').map((row) => JSON.stringify(row));
}

function readingNumbersIn(folder: string): number[] {
  const rows = rowsIn(folder, `SELECT at FROM readings WHERE sensor_id = 'bay-2-air'`);
  return rows.map((row) => (row as { at: number }).at - FIRST_MS);
}

function rowsIn(folder: string, sql: string): unknown[] {
  const database = new DatabaseSync(join(folder, 'sandby.sqlite'), { readOnly: true });
  const rows: unknown[] = database.prepare(sql).all();
  database.close();
  return rows;
}

function wait(waitMs: number): Promise<void> {
  return new Promise((done) => {
    setTimeout(done, waitMs);
  });
}
