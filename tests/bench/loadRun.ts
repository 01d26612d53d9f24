// One run of load against the built server, and one against the bare broker: who is started, asked and ended when.
import { type ChildProcess, fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { launchChromium } from '../support/chromium.ts';
import { makeTempFolder, runServer, type RunningServer } from '../support/runServer.ts';
import type { Heard, Listen } from './loadClients.ts';
import type { BareFigures, LoadOptions, MemoryTrend, ShopFigures, Summary } from './loadFigures.ts';
import { sendReadings, type Sent } from './loadSender.ts';
import { BAYS, countOpen, fillShop, writeConfig } from './loadShop.ts';

const PAGES = ['/bench', '/floor', '/air', '/floor?wall=1', '/setup'];
const SETTLE_MS = 3000;
const MEMORY_SAMPLES_COUNT = 12;
/** Kernel ticks a second, the same on every Linux that Node runs on. */
const TICKS_PER_S = 100;

/** The bare broker under the same readings. */
export async function loadBare(options: LoadOptions): Promise<BareFigures> {
  const bare = startRole('bare');
  const port = (await messageFrom(bare)) as number;
  const clients = startRole('clients');
  await ask(clients, { kind: 'mqtt', port, topic: 'bare/#', count: options.screenCount });
  const beforeS = cpuS(bare);
  const sent = await sendReadings({
    ...options,
    mqttPort: port,
    topicPrefix: 'bare',
    address: null,
    sensors: BAYS.flatMap(({ sensors }) => sensors),
  });
  const cpuPct = (100 * (cpuS(bare) - beforeS)) / options.durationS;
  const { airMs } = (await ask(clients, 'report')) as Heard;
  const storedCount = (await ask(bare, 'count')) as number;
  clients.disconnect();
  bare.disconnect();
  return { sentCount: sent.sentCount, storedCount, ackMs: sent.ackMs, airMs, cpuPct };
}

/** The built server, with screens, pages, batches and readings. */
export async function loadShop(options: LoadOptions): Promise<ShopFigures> {
  const server = await runServer({ config: writeConfig(makeTempFolder()) });
  const clients = startRole('clients');
  const browser = options.pageCount === 0 ? null : await launchChromium();
  try {
    await fillShop(server.address, options.batchCount);
    await ask(clients, { kind: 'live', address: server.address, count: options.screenCount });
    for (const path of PAGES.slice(0, options.pageCount)) {
      await (await browser?.newPage())?.goto(`${server.address}${path}`);
    }
    await new Promise((resolve) => setTimeout(resolve, SETTLE_MS));
    await ask(clients, 'report');
    return await measure(options, { server, clients });
  } finally {
    await browser?.close();
    clients.disconnect();
    await server.stop();
  }
}

async function measure(
  options: LoadOptions,
  { server, clients }: { server: RunningServer; clients: ChildProcess },
): Promise<ShopFigures> {
  const before = { cpuS: cpuS(server.child), metrics: await readMetrics(server.address) };
  const memory = watchMemory(server.child, options.durationS);
  const sent = await sendReadings({
    ...options,
    mqttPort: server.mqttPort,
    topicPrefix: 'sandby/v1',
    address: server.address,
    sensors: BAYS.flatMap(({ sensors }) => sensors),
  });
  const cpuPct = (100 * (cpuS(server.child) - before.cpuS)) / options.durationS;
  const trend = memory.stop();
  const metrics = await readMetrics(server.address);
  const heard = (await ask(clients, 'report')) as Heard;
  const { storedCount, lostCount } = await countLost(server.address, sent);
  const grown = (name: string): number => (metrics.get(name) ?? 0) - (before.metrics.get(name) ?? 0);
  return {
    sentCount: sent.sentCount,
    failedCount: sent.failedCount,
    storedCount,
    lostCount,
    openBatchCount: await countOpen(server.address),
    ackMs: sent.ackMs,
    httpMs: sent.httpMs,
    ...heard,
    loopMs: summaryFrom('sandby_event_loop_delay_seconds', metrics, before.metrics),
    cpuPct,
    estimatesPerS: grown('sandby_estimate_duration_seconds_count') / options.durationS,
    memory: trend,
  };
}

/** Every acknowledged reading is in the air table, once. */
async function countLost(
  address: string,
  { acknowledged }: Sent,
): Promise<{ storedCount: number; lostCount: number }> {
  let storedCount = 0;
  let lostCount = 0;
  for (const { id, sensors } of BAYS) {
    const response = await fetch(`${address}/api/v1/bays/${id}/air?stepMin=0`);
    const columns = (await response.json()) as { at: string[]; sensorId: string[] };
    const times = new Map<string, number>();
    for (const [index, at] of columns.at.entries()) {
      const key = `${columns.sensorId[index]} ${at}`;
      times.set(key, (times.get(key) ?? 0) + 1);
    }
    for (const { sensorId } of sensors) {
      for (const at of acknowledged.get(sensorId) ?? []) {
        if (times.get(`${sensorId} ${at}`) === 1) storedCount += 1;
        else lostCount += 1;
      }
    }
  }
  return { storedCount, lostCount };
}

function startRole(role: 'clients' | 'bare'): ChildProcess {
  return fork(join(import.meta.dirname, 'load.ts'), ['--role', role], { execArgv: ['--import', 'tsx'] });
}

async function ask(child: ChildProcess, question: Listen | 'report' | 'count'): Promise<unknown> {
  const answer = messageFrom(child);
  child.send(question);
  return answer;
}

async function messageFrom(child: ChildProcess): Promise<unknown> {
  return new Promise((resolve, reject) => {
    child.once('message', resolve);
    child.once('exit', (code) => reject(new Error(`a part of the run ended with ${code}`)));
  });
}

/** Processor time that a process has taken. */
function cpuS({ pid }: ChildProcess): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_S;
}

function watchMemory({ pid }: ChildProcess, durationS: number): { stop(): MemoryTrend } {
  const samples: { readonly atMin: number; readonly residentKib: number }[] = [];
  const begunMs = performance.now();
  const look = (): void => {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    const residentKib = Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]);
    samples.push({ atMin: (performance.now() - begunMs) / 60_000, residentKib });
  };
  look();
  const timer = setInterval(look, (1000 * durationS) / MEMORY_SAMPLES_COUNT);
  return {
    stop() {
      clearInterval(timer);
      const half = samples.slice(Math.floor(samples.length / 2));
      return {
        residentCounts: samples.map(({ residentKib }) => residentKib / 1024),
        kibPerMin: slopeOf(half.map(({ atMin, residentKib }) => [atMin, residentKib])),
      };
    },
  };
}

/** Least squares. */
function slopeOf(points: readonly (readonly [x: number, y: number])[]): number {
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / points.length;
  const above = points.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  return above / points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
}

async function readMetrics(address: string): Promise<Map<string, number>> {
  const text = await (await fetch(`${address}/metrics`)).text();
  const lines = text.split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  return new Map(
    lines.map((line) => [
      line.slice(0, line.lastIndexOf(' ')),
      Number(line.slice(line.lastIndexOf(' ') + 1)),
    ]),
  );
}

/** What a histogram says of a run: the upper bound of the bucket that holds each part. */
function summaryFrom(
  name: string,
  after: ReadonlyMap<string, number>,
  before: ReadonlyMap<string, number>,
): Summary {
  const buckets = [...after].flatMap(([key, count]) => {
    const bound = new RegExp(`^${name}_bucket\\{le="(.+)"\\}$`).exec(key)?.[1];
    return bound === undefined ? [] : [{ ms: 1000 * Number(bound), count: count - (before.get(key) ?? 0) }];
  });
  const count = buckets.at(-1)?.count ?? 0;
  const at = (part: number): number => buckets.find((bucket) => bucket.count >= part * count)?.ms ?? 0;
  return { count, p50Ms: at(0.5), p99Ms: at(0.99), maxMs: at(1) };
}
