// The log of a broken evening: one line each way however much fails in between, typed names, units in the fields, and
// neither measurements nor secrets nor the machine's paths, in the log or in any answer.
import { DatabaseSync } from '@photostructure/sqlite';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import { getJson, postJson } from '../support/http.ts';
import { runServer, type RunningServer } from '../support/runServer.ts';

let server: RunningServer | null = null;
afterEach(async () => {
  await server?.stop('SIGKILL');
  server = null;
});

/** A measurement that is nowhere else. */
const ODD_C = 17.377;
const KEY = 'a-key-that-nobody-should-read';
const TRIES_COUNT = 12;

interface Line {
  readonly msg: string;
  readonly level: number;
  readonly [field: string]: unknown;
}

describe('the log of an evening in which the store fails', () => {
  it('has a line when it begins and one when it ends, and nothing of what was sent', async () => {
    const running = await runServer();
    server = running;
    let told = '';
    running.child.stderr?.on('data', (chunk: Buffer) => (told += chunk.toString()));
    const { address, dataFolder } = running;
    const reading = { sensorId: 'bay-1-air', airTemperatureC: ODD_C };
    const answers: string[] = [];
    const say = async (): Promise<number> => {
      const { status, body } = await postJson({ address, path: '/readings' }, reading);
      answers.push(JSON.stringify(body));
      return status;
    };
    expect(await say()).toBe(200);
    // Not worth a line: what cannot be read is counted and shown in Setup, what is refused is told to who asked.
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${running.mqttPort}`, { reconnectPeriod: 50 });
    client.on('error', () => undefined);
    await client.publishAsync('sandby/v1/readings/bay-1-air', '{"airTemperatureC": "warm"', { qos: 1 });
    const unknown = await postJson(
      { address, path: '/batches/none/commands' },
      { type: 'scrap' },
      { 'idempotency-key': KEY },
    );
    answers.push(JSON.stringify(unknown.body));
    const other = new DatabaseSync(join(dataFolder, 'sandby.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    for (let index = 0; index < TRIES_COUNT; index += 1) expect(await say()).toBe(503);
    const unstored = client.publishAsync('sandby/v1/readings/bay-1-air', JSON.stringify(reading), { qos: 1 });
    await new Promise<void>((resolve) => client.once('close', () => resolve()));
    const { body } = await getJson(address, '/health');
    answers.push(JSON.stringify(body));
    other.exec('ROLLBACK');
    other.close();
    await unstored;
    expect(await say()).toBe(200);
    await client.endAsync();
    expect(await running.stop()).toBe(0);
    const lines = told
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Line);
    const names = lines.map(({ msg }) => msg);
    expect(names.filter((name) => name !== 'store.looked')).toEqual([
      'store.failed',
      'store.back',
      'program.stopping',
    ]);
    for (const { msg } of lines) expect(msg).toMatch(/^[a-z]+\.[a-z-]+$/);
    expect(lines.flatMap((line) => unitlessFields(line))).toEqual([]);
    for (const text of [told, ...answers]) {
      expect(text).not.toContain(String(ODD_C));
      expect(text).not.toContain(KEY);
      expect(text).not.toContain(dataFolder);
      expect(text).not.toMatch(/\/(tmp|work|root|home|node_modules)\//);
    }
  }, 90_000);
});

/** Numbers of a line whose names do not say their unit; pino's own level and time apart. */
function unitlessFields(line: Line): string[] {
  return Object.entries(line)
    .filter(([name, value]) => typeof value === 'number' && name !== 'level' && name !== 'time')
    .map(([name]) => name)
    .filter((name) => !/(Ms|S|Min|Bytes|Count|Pct|C|code|status|sequence)$/.test(name));
}
