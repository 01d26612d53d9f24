// Pulled plug: what was acknowledged before SIGKILL is there after the next start, once, by every door.
import { DatabaseSync } from '@photostructure/sqlite';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import mqtt from 'mqtt';
import { execFileSync } from 'node:child_process';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';

const running: RunningServer[] = [];

afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.stop('SIGKILL')));
});

async function start(dataFolder: string): Promise<RunningServer> {
  const server = await runServer({ dataFolder });
  running.push(server);
  return server;
}

/** Readings sent ahead of their acknowledgements. */
const UNDER_WAY_MAX_COUNT = 1500;

const BATCH = { cardId: 'body-filler', panel: 'Bonnet', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel' };

describe('a kill without warning', () => {
  it('loses neither the batch nor its window', async () => {
    const dataFolder = makeTempFolder();
    const before = await start(dataFolder);
    await postJson(
      { address: before.address, path: '/readings' },
      { sensorId: 'bay-1-air', airTemperatureC: 20 },
    );
    const batch = (await postJson({ address: before.address, path: '/batches' }, BATCH)).body;
    await before.stop('SIGKILL');
    const after = await start(dataFolder);
    const { body } = await getJson(after.address, `/batches/${String(batch['id'])}`);
    expect(body['stage']).toBe('wet');
    expect((body['estimate'] as Record<string, unknown>)['test']).toEqual(
      (batch['estimate'] as Record<string, unknown>)['test'],
    );
    expect((await getJson(after.address, '/snapshot')).body['ledgerId']).toBeTypeOf('string');
  });

  it('keeps every acknowledged reading once while sensors go on sending, and the views are those of the facts', async () => {
    const dataFolder = makeTempFolder();
    const firstAt = Date.now() - 60 * 60_000;
    const acknowledged = new Set<number>();
    for (let round = 0; round < 3; round += 1) {
      const server = await start(dataFolder);
      const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${server.mqttPort}`, { reconnectPeriod: 0 });
      client.on('error', () => undefined);
      const goal = acknowledged.size + 50 + round * 37;
      const sent: Promise<void>[] = [];
      for (let index = 0; acknowledged.size < goal && index < 20_000; index += 1) {
        const number = round * 20_000 + index;
        const payload = JSON.stringify({
          at: new Date(firstAt + number * 50).toISOString(),
          airTemperatureC: 15 + (number % 50) / 10,
        });
        sent.push(
          client
            .publishAsync('sandby/v1/readings/bay-1-air', payload, { qos: 1 })
            .then(() => void acknowledged.add(number))
            .catch(() => undefined),
        );
        if (index % 20 === 19) await new Promise((done) => setImmediate(done));
        // A slow machine is given time to acknowledge; what is under way at the kill stays plenty.
        const isAhead = (): boolean =>
          index - (acknowledged.size - goal + 50 + round * 37) > UNDER_WAY_MAX_COUNT;
        while (isAhead() && acknowledged.size < goal) await new Promise((done) => setTimeout(done, 1));
      }
      // In the middle of it all: many more have been sent than were acknowledged.
      await server.stop('SIGKILL');
      client.end(true);
      await Promise.race([Promise.all(sent), new Promise((done) => setTimeout(done, 500))]);
    }
    const server = await start(dataFolder);
    const from = new Date(firstAt - 1000).toISOString();
    const { body } = await getJson(server.address, `/bays/bay-1/air?from=${from}&stepMin=0`);
    const stored = (body['at'] as string[]).map((at) => Math.round((Date.parse(at) - firstAt) / 50));
    const times = new Map<number, number>();
    for (const number of stored) times.set(number, (times.get(number) ?? 0) + 1);
    process.stdout.write(`acknowledged before three kills: ${acknowledged.size}, stored: ${stored.length}\n`);
    expect(acknowledged.size).toBeGreaterThan(100);
    expect([...acknowledged].filter((number) => times.get(number) !== 1)).toEqual([]);
    await server.stop();
    const report = JSON.parse(rebuild(dataFolder)) as { differences: string[] };
    expect(report.differences).toEqual([]);
  });
});

describe('a sensor that publishes while nothing can be stored', () => {
  it('gets no acknowledgement, sends again after it was cut off, and its reading is stored once', async () => {
    const server = await start(makeTempFolder());
    const other = new DatabaseSync(join(server.dataFolder, 'sandby.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${server.mqttPort}`, {
      clean: false,
      clientId: 'probe',
      reconnectPeriod: 200,
    });
    let isCutOff = false;
    client.once('close', () => {
      isCutOff = true;
      other.exec('ROLLBACK');
      other.close();
    });
    await client.publishAsync(
      'sandby/v1/readings/bay-1-air',
      JSON.stringify({ at: new Date().toISOString(), airTemperatureC: 17 }),
      { qos: 1 },
    );
    expect(isCutOff).toBe(true);
    await client.endAsync();
    const { body } = await getJson(server.address, '/bays/bay-1/air?stepMin=0');
    expect(body['airTemperatureC']).toEqual([17]);
  }, 40_000);
});

function rebuild(dataFolder: string): string {
  return execFileSync(process.execPath, ['dist/server/rebuild.js', '--config', 'config/shop.example.json'], {
    env: { ...process.env, SANDBY_DATA: dataFolder },
    encoding: 'utf8',
  });
}
