// Start and stop of the built program: quick, clean, and with one clear line when it cannot be.
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { getJson, postJson } from '../support/http.ts';
import { makeTempFolder, runServer, type RunningServer, runUntilEnd } from '../support/runServer.ts';

const EXAMPLE = 'config/shop.example.json';
const running: RunningServer[] = [];

afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.stop('SIGKILL')));
});

async function start(options: Parameters<typeof runServer>[0] = {}): Promise<RunningServer> {
  const server = await runServer(options);
  running.push(server);
  return server;
}

/** A config that differs from the example, beside a copy of the cards. */
function writeConfig(change: (config: Record<string, unknown>) => void, cards?: string): string {
  const folder = makeTempFolder();
  const config = JSON.parse(readFileSync(EXAMPLE, 'utf8')) as Record<string, unknown>;
  change(config);
  writeFileSync(join(folder, 'shop.json'), JSON.stringify(config));
  writeFileSync(join(folder, 'cards.json'), cards ?? readFileSync('config/cards.json', 'utf8'));
  return join(folder, 'shop.json');
}

async function expectOneLine(
  flags: readonly string[],
  options: { says: RegExp; environment?: Record<string, string> },
): Promise<void> {
  const ended = await runUntilEnd(flags, {
    SANDBY_HTTP_PORT: '0',
    SANDBY_MQTT_PORT: '0',
    SANDBY_DATA: makeTempFolder(),
    ...options.environment,
  });
  expect(ended.stdout).toBe('');
  expect(ended.stderr.trimEnd().split('\n')).toHaveLength(1);
  expect(ended.stderr).toMatch(options.says);
  expect(ended.code).toBe(2);
}

describe('a stop', () => {
  it('waits for no connection that says nothing, and cuts no answer short that is under way', async () => {
    const server = await start();
    const port = Number(new URL(server.address).port);
    const silent = [connect(port, '127.0.0.1'), connect(port, '127.0.0.1')];
    for (const socket of silent) socket.on('error', () => undefined);
    silent[1]?.write(
      'POST /api/v1/readings HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 50\r\n\r\n{',
    );
    const answers = Array.from({ length: 50 }, (_, index) =>
      postJson(
        { address: server.address, path: '/readings' },
        { sensorId: 'bay-1-air', airTemperatureC: 15 + index / 10 },
      ),
    );
    const first = await Promise.race(answers);
    expect(first.status).toBe(200);
    const stoppedMs = performance.now();
    expect(await server.stop()).toBe(0);
    expect(performance.now() - stoppedMs).toBeLessThan(4000);
    const settled = await Promise.allSettled(answers);
    for (const answer of settled) if (answer.status === 'fulfilled') expect(answer.value.status).toBe(200);
  });
});

describe('a start', () => {
  it('answers with HTTP 200 and says so once, and a stop ends with 0', async () => {
    const server = await start();
    const health = await getJson(server.address, '/health');
    process.stdout.write(`start to printed address: ${Math.round(server.startedInMs)} ms\n`);
    expect(health).toMatchObject({
      status: 200,
      body: { status: 'ok', parts: { ledger: 'ok', broker: 'ok' } },
    });
    expect(await server.stop()).toBe(0);
  });

  it('is refused in one line for a data folder that another one works on', async () => {
    const first = await start();
    await expectOneLine(['--config', EXAMPLE], {
      says: /data folder .* cannot be used: another Sandby works on it/,
      environment: { SANDBY_DATA: first.dataFolder },
    });
    expect((await getJson(first.address, '/health')).status).toBe(200);
  });

  it('is refused in one line over an open batch whose product or bay has gone', async () => {
    const dataFolder = makeTempFolder();
    const first = await start({ dataFolder });
    const batch = {
      cardId: 'winter-filler',
      panel: 'Roof',
      bayId: 'bay-2',
      thicknessMm: 1,
      substrate: 'steel',
    };
    expect((await postJson({ address: first.address, path: '/batches' }, batch)).status).toBe(201);
    await first.stop();
    const withoutBay = writeConfig((config) => {
      config['bays'] = [{ id: 'bay-1', name: 'Bay 1', kind: 'bay' }];
      config['sensors'] = [];
    });
    await expectOneLine(['--config', withoutBay], {
      says: /bay "bay-2" still holds Roof/,
      environment: { SANDBY_DATA: dataFolder },
    });
    const cards = JSON.parse(readFileSync('config/cards.json', 'utf8')) as { cards: { id: string }[] };
    const fewer = JSON.stringify({
      ...cards,
      cards: cards.cards.filter((card) => card.id !== 'winter-filler'),
    });
    const withoutCard = writeConfig(() => undefined, fewer);
    await expectOneLine(['--config', withoutCard], {
      says: /product "winter-filler" is still on Roof/,
      environment: { SANDBY_DATA: dataFolder },
    });
  });

  it('is refused in one line for a port that is taken, HTTP or MQTT', async () => {
    const taken = createServer().listen(0, '127.0.0.1');
    await new Promise((done) => taken.once('listening', done));
    const port = String((taken.address() as { port: number }).port);
    const flags = ['--config', EXAMPLE];
    await expectOneLine(flags, {
      says: new RegExp(`http\\.port: port ${port} .*in use`),
      environment: { SANDBY_HTTP_PORT: port },
    });
    await expectOneLine(flags, {
      says: new RegExp(`mqtt\\.port: port ${port} .*in use`),
      environment: { SANDBY_MQTT_PORT: port },
    });
    taken.close();
  });

  it.each<[string, (config: Record<string, unknown>) => void, RegExp]>([
    ['an unknown key', (config) => (config['colour'] = 'red'), /shop\.json: colour: is not a field/],
    [
      'a probability out of range',
      (config) => (config['alerts'] = { testProbabilityPct: 99, spreadByS: 90, waitingMin: 15 }),
      /alerts\.testProbabilityPct: is too large; allowed: 60 … 95 %/,
    ],
    [
      'an address that is not loopback',
      (config) => (config['http'] = { host: '0.0.0.0', port: 0 }),
      /http\.host: .*allowed: 127\.0\.0\.1/,
    ],
    [
      'a sensor in a bay that is none',
      (config) => (config['sensors'] = [{ id: 's', bayId: 'b' }]),
      /sensors\.0\.bayId: names no bay.*bay-1, bay-2/,
    ],
    [
      'the same bay twice',
      (config) =>
        (config['bays'] = [
          { id: 'b', name: 'B', kind: 'bay' },
          { id: 'b', name: 'C', kind: 'bay' },
        ]),
      /bays\.1\.id: stands twice/,
    ],
    [
      'a time zone that is none',
      (config) => (config['shop'] = { name: 'S', timeZone: 'Mars/Base' }),
      /shop\.timeZone: is not a time zone.*IANA/,
    ],
    [
      'a simulator on the wall clock',
      (config) => (config['simulator'] = { scenario: 'cold-morning', seed: 1 }),
      /simulator: needs the simulated clock/,
    ],
    ['a missing part', (config) => delete config['alerts'], /alerts: is missing/],
  ])('is refused in one line for a config with %s', async (_what, change, says) => {
    await expectOneLine(['--config', writeConfig(change)], { says });
  });

  it.each([
    ['that is not there', 'nowhere.json', /nowhere\.json: cannot be read \(ENOENT\)/],
    ['that is not JSON', 'README.md', /README\.md: is not JSON/],
  ])('is refused in one line for a config %s', async (_what, file, says) => {
    await expectOneLine(['--config', file], { says });
  });

  it('is refused in one line for a card that no constants fit', async () => {
    const cards = JSON.stringify({
      version: 1,
      cards: [
        {
          id: 'a',
          name: 'A',
          fill: 'regular',
          atC: 20,
          thicknessMm: 1,
          hardenerPct: 2,
          workingMin: 20,
          sandMin: 19,
          lowestC: 10,
          thicknessMaxMm: 6,
        },
      ],
    });
    await expectOneLine(['--config', writeConfig(() => undefined, cards)], {
      says: /cards\.json: cards\.0\.\w+: /,
    });
  });

  it.each([
    ['70000', /http\.port: is too large; allowed: at most 65535/],
    ['door', /http\.port: is not a/],
  ])('is refused in one line for the port %s from the environment', async (port, says) => {
    await expectOneLine(['--config', EXAMPLE], { says, environment: { SANDBY_HTTP_PORT: port } });
  });

  it('is refused in one line for flags that are none', async () => {
    await expectOneLine(['--colour'], { says: /--colour.*usage/ });
  });

  it('is refused in one line for a data folder that cannot be written', async () => {
    // Root may write anywhere, so the folder's place is taken by a file; for others the mode says no as well.
    const folder = makeTempFolder();
    writeFileSync(join(folder, 'file'), '');
    mkdirSync(join(folder, 'shut'));
    chmodSync(join(folder, 'shut'), 0o500);
    const blocked = join(folder, process.getuid?.() === 0 ? 'file' : 'shut', 'data');
    await expectOneLine(['--config', EXAMPLE], {
      says: /data folder .* cannot be used: /,
      environment: { SANDBY_DATA: blocked },
    });
  });
});
