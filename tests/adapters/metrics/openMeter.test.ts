// What a shop does stands in its figures: counted through the same doors, told as Prometheus reads it, with or without a store.
import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { makeApp } from '../../../server/adapters/http/makeApp.ts';
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { countDoors, countLedger } from '../../../server/adapters/metrics/countDoors.ts';
import { openMeter } from '../../../server/adapters/metrics/openMeter.ts';
import { METRICS } from '../../../server/application/ports/counters.ts';
import type { Doors } from '../../../server/application/ports/doors.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import { makeDoors } from '../../../server/makeDoors.ts';
import { parseMetrics, type ReadFamily } from '../../support/parseMetrics.ts';
import { makeTempFolder } from '../../support/runServer.ts';
import { openTestShop, PLAIN_BATCH, type TestShop } from '../../support/testShop.ts';

let server: Server | null = null;
afterEach(() => server?.close());

interface Counted {
  readonly test: TestShop;
  readonly doors: Doors;
  readonly gate: { isDown: boolean };
  readonly read: () => Promise<ReadFamily[]>;
}

async function openCounted(): Promise<Counted> {
  const meter = openMeter();
  const { counters } = meter;
  const gate = { isDown: false };
  const { ledger, air } = makeMemoryStore();
  const readHead: typeof ledger.readHead = async () => {
    if (gate.isDown) throw new PortFailure('ledger', 'readHead', { isRetriable: true });
    return ledger.readHead();
  };
  const test = await openTestShop({
    counters,
    air,
    ledger: countLedger({ ...ledger, readHead }, counters),
  });
  const bare = makeDoors(test.shop, { version: '7', refused: () => [] });
  const doors = countDoors(bare, { counters, door: 'http' });
  const sources = { doors, feed: { clientCount: () => 3 }, refused: { count: () => 5 }, version: '7 "x"' };
  return { test, doors, gate, read: async () => parseMetrics(await meter.read(sources)) };
}

function valueOf(
  families: readonly ReadFamily[],
  name: string,
  labels: Record<string, string> = {},
): number | undefined {
  const samples = families.flatMap((family) => family.samples).filter((sample) => sample.name === name);
  return samples.find((one) => Object.entries(labels).every(([label, text]) => one.labels[label] === text))
    ?.measurement;
}

/** Pages as a build leaves them, empty. */
function makePages(): string {
  const folder = makeTempFolder();
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html>');
  return folder;
}

describe('the figures of a shop', () => {
  it('count readings, acts and facts by what became of them', async () => {
    const { test, doors, read } = await openCounted();
    const at = test.clock.nowAt();
    const reading = { index: 0, sensorId: 'bay-1-air', at, airTemperatureC: 19, relativeHumidityPct: 50 };
    await doors.recordReading([reading]);
    await doors.recordReading([reading, { ...reading, index: 1, sensorId: 'nobody-knows' }]);
    const started = await doors.startBatch({ key: 'a', body: PLAIN_BATCH });
    await doors.startBatch({ key: 'a', body: PLAIN_BATCH });
    await doors.startBatch({ key: 'a', body: { ...PLAIN_BATCH, panel: 'Bonnet' } });
    const id = started.kind === 'done' ? started.batch.id : '';
    await doors.handleCommand(id, { key: 'b', body: { type: 'recordCheck', outcome: 'gums' } });
    const figures = await read();
    const http = { door: 'http' };
    expect(valueOf(figures, 'sandby_readings_total', { ...http, outcome: 'recorded' })).toBe(1);
    expect(valueOf(figures, 'sandby_readings_total', { ...http, outcome: 'repeated' })).toBe(1);
    expect(valueOf(figures, 'sandby_readings_set_aside_total', { ...http, reason: 'unknown-sensor' })).toBe(
      1,
    );
    for (const [outcome, count] of [
      ['done', 1],
      ['repeated', 1],
      ['key-reused', 1],
    ] as const)
      expect(valueOf(figures, 'sandby_commands_total', { type: 'startBatch', outcome })).toBe(count);
    expect(valueOf(figures, 'sandby_commands_total', { type: 'recordCheck', outcome: 'refused' })).toBe(1);
    expect(valueOf(figures, 'sandby_refusals_total', { code: 'stage-wet' })).toBe(1);
    expect(valueOf(figures, 'sandby_facts_total', { type: 'BatchStarted' })).toBe(1);
    expect(valueOf(figures, 'sandby_estimate_duration_seconds_count')).toBeGreaterThan(0);
    expect(valueOf(figures, 'sandby_batches_open', { stage: 'wet' })).toBe(1);
    expect(valueOf(figures, 'sandby_sensors', { state: 'heard' })).toBe(1);
    expect(valueOf(figures, 'sandby_sensors', { state: 'never' })).toBe(1);
    expect(valueOf(figures, 'sandby_sensors', { state: 'unknown' })).toBe(1);
    expect(valueOf(figures, 'sandby_live_clients')).toBe(3);
    expect(valueOf(figures, 'sandby_payloads_refused_total')).toBe(5);
    expect(valueOf(figures, 'sandby_part_degraded', { part: 'ledger' })).toBe(0);
    expect(valueOf(figures, 'sandby_build_info', { version: '7 "x"' })).toBe(1);
    const known = new Map<string, string>(METRICS.map(({ name, type }) => [name, type]));
    for (const { name, type } of figures) expect(known.get(name)).toBe(type);
  });

  it('tell of a store that cannot be read instead of failing with it', async () => {
    const { doors, gate, read } = await openCounted();
    gate.isDown = true;
    await expect(doors.startBatch({ key: 'a', body: PLAIN_BATCH })).rejects.toBeInstanceOf(PortFailure);
    const figures = await read();
    expect(valueOf(figures, 'sandby_commands_total', { type: 'startBatch', outcome: 'failed' })).toBe(1);
    expect(
      valueOf(figures, 'sandby_port_failures_total', { port: 'ledger', operation: 'readHead' }),
    ).toBeGreaterThan(0);
    expect(valueOf(figures, 'sandby_part_degraded', { part: 'ledger' })).toBe(1);
    expect(valueOf(figures, 'sandby_ledger_sequence')).toBeUndefined();
    expect(valueOf(figures, 'process_resident_memory_bytes')).toBeGreaterThan(1e6);
  });
});

describe('GET /metrics', () => {
  it('answers in the text format, counts problems by status, and is listed on the page of the API', async () => {
    const { test, doors } = await openCounted();
    const meter = openMeter();
    const readMetrics = async (): Promise<string> =>
      meter.read({ doors, feed: { clientCount: () => 0 }, refused: null, version: '7' });
    server = createServer(
      makeApp({ doors, log: test.shop.log, version: '7', pagesFolder: makePages(), readMetrics }),
    );
    meter.watchAnswers(server);
    await new Promise<void>((done) => server?.listen(0, '127.0.0.1', done));
    const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    await fetch(`${address}/api/v1/batches/none`);
    const response = await fetch(`${address}/metrics`);
    expect(response.headers.get('content-type')).toBe('text/plain; version=0.0.4; charset=utf-8');
    expect(valueOf(parseMetrics(await response.text()), 'sandby_problems_total', { status: '404' })).toBe(1);
    const page = await (await fetch(`${address}/api/docs`)).text();
    for (const { name, help } of METRICS) {
      expect(page).toContain(`<code>${name}</code>`);
      expect(page).toContain(help);
    }
  });
});
