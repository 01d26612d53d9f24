// Start over a store with a long past: how long it takes is printed, and that it is looked through is seen; and a store that
// is damaged is refused in one line that says how to go on.
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { instantFromMs } from '../../server/contract/index.ts';
import { fillYear } from '../support/fillYear.ts';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer, runUntilEnd } from '../support/runServer.ts';
import { countFor } from '../support/testSize.ts';

const DAYS = countFor({ usual: 30, nightly: 365 });

it('starts over its past, copies all of it, and refuses it in one line when it is damaged', async () => {
  const dataFolder = makeTempFolder();
  const file = join(dataFolder, 'sandby.sqlite');
  const size = { days: DAYS, batchesADayCount: 10, untilAt: instantFromMs(Date.now()), seed: 7 };
  const { factCount, readingCount } = await fillYear(file, size);
  const server = await runServer({ dataFolder });
  const { status, body } = await getJson(server.address, '/health');
  expect(status).toBe(200);
  expect(body['sequence']).toBeGreaterThanOrEqual(factCount);
  process.stdout.write(
    `start to address over ${DAYS} days (${readingCount} readings, ${factCount} facts, ` +
      `${Math.round(statSync(file).size / 1e6)} MB): ${Math.round(server.startedInMs)} ms\n`,
  );
  const begunMs = performance.now();
  const made = await postJson({ address: server.address, path: '/copies' }, {});
  expect(made.status).toBe(201);
  process.stdout.write(`a checked copy of it: ${Math.round(performance.now() - begunMs)} ms\n`);
  expect(await server.stop()).toBe(0);

  const bytes = readFileSync(file);
  // As a disk that was pulled too early leaves it.
  writeFileSync(file, bytes.subarray(0, Math.floor(bytes.length * 0.7)));
  const ended = await runUntilEnd(['--config', 'config/shop.example.json'], {
    SANDBY_HTTP_PORT: '0',
    SANDBY_MQTT_PORT: '0',
    SANDBY_DATA: dataFolder,
  });
  expect(ended.code).toBe(2);
  expect(ended.stderr.trimEnd().split('\n')).toHaveLength(1);
  expect(ended.stderr).toMatch(
    /cannot be used: the file is cut short: \d+ of \d+ bytes are there; put a good copy in its place/,
  );
  expect(ended.stderr).toContain(
    `npm run --silent restore -- ${join(dataFolder, 'copies', String(made.body['name']))}`,
  );
});
