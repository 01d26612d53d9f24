// The composition root: reads the config, opens the ports, ties the use cases to the doors, and keeps them until told to stop.
import { fork, type ChildProcess } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { createServer, type Server } from 'node:http';
import { join } from 'node:path';
import { acknowledgeAlert, handleCommand, startBatch } from './application/handleCommand.ts';
import { calibrateCards, catchUp, makeShop } from './application/openShop.ts';
import type { Clock } from './application/ports/clock.ts';
import type { Doors } from './application/ports/doors.ts';
import type { Log } from './application/ports/live.ts';
import { PortFailure } from './application/ports/portFailure.ts';
import { readAirHistory } from './application/readAirHistory.ts';
import {
  presentCards,
  readAlerts,
  readBatch,
  readBatches,
  readBays,
  readHealth,
  readSensors,
  readSnapshot,
} from './application/readSnapshot.ts';
import { recordReading } from './application/recordReading.ts';
import type { Shop } from './application/shop.ts';
import { openBroker, type OpenBroker } from './adapters/broker/openBroker.ts';
import { localInstant } from './adapters/clock/localInstant.ts';
import { makePacedClock, makeWallClock } from './adapters/clock/pacedClock.ts';
import { describeRejections, readConfig, type Settings } from './adapters/config/readConfig.ts';
import { openFeed } from './adapters/feed/openFeed.ts';
import { makeApp } from './adapters/http/makeApp.ts';
import { openSqliteStore } from './adapters/ledger/sqlite/openSqliteStore.ts';
import { makeLog } from './adapters/log/pinoLog.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { type Instant, instantFromMs } from './contract/index.ts';
import type { Sequence } from './domain/facts.ts';
import { findProgramFolder, readVersion } from './programFiles.ts';

/** How long a stop may take before it is forced [ms]. */
const STOP_MAX_MS = 5000;
const FAR_FUTURE_AT = instantFromMs(8.64e15);

type Store = ReturnType<typeof openSqliteStore>;

async function main(): Promise<void> {
  const programFolder = findProgramFolder();
  const version = readVersion(programFolder);
  const configFile = readConfigFlag(process.argv.slice(2), programFolder);
  const settings = readConfig(configFile, process.env);
  const log = makeLog('info');
  const store = openStore(settings);
  const clock = await makeClock(settings, store);
  const feed = openFeed();
  const shop = makeShop({
    facts: settings.shop,
    cards: calibrate(settings, configFile),
    ...store,
    clock,
    live: feed,
    log,
    makeId: randomUUID,
  });
  await catchUp(shop);
  const { http, mqtt } = settings.config;
  // The doors need the broker's list and the broker needs the doors: the list is asked for only when someone looks.
  let broker: OpenBroker | null = null;
  const doors = makeDoors(shop, { version, refused: () => broker?.refused.list() ?? [] });
  broker = await openBroker(mqtt, { doors, log }).catch(portTaken('mqtt', mqtt));
  const server = createServer(
    makeApp({ doors, log, version, pagesFolder: join(programFolder, 'dist', 'dashboard') }),
  );
  feed.attach(server, { ledgerId: shop.ledger.ledgerId, sequence: await shop.ledger.readHead() });
  await listen(server, http).catch(portTaken('http', http));
  const address = `http://${http.host}:${portOf(server, http.port)}`;
  process.stdout.write(`${greeting(settings, { address, mqttPort: broker.port, configFile })}\n`);
  const simulator = startSimulator(settings, { address, mqttPort: broker.port, log });
  stopOnSignal({ simulator, server, broker, feed, shop, log });
}

function openStore({ dataFolder }: Settings): Store {
  try {
    return openSqliteStore({ file: join(dataFolder, 'sandby.sqlite'), ledgerIdForNew: randomUUID() });
  } catch (error) {
    if (!(error instanceof PortFailure)) throw error;
    const cause = error.cause instanceof Error ? error.cause.message : String(error.cause);
    throw new StartError(`the data folder ${dataFolder} cannot be used: ${cause}`);
  }
}

function calibrate(settings: Settings, configFile: string): Shop['cards'] {
  const calibrated = calibrateCards(settings.cards);
  if (calibrated.kind === 'calibrated') return calibrated.cards;
  const file = join(configFile, '..', settings.config.cardsFile);
  throw new StartError(describeRejections(file, calibrated.rejections));
}

/** A simulated day goes on where the last start ended, so that what was recorded stays in the past. */
async function makeClock({ config, shop }: Settings, { ledger, air }: Store): Promise<Clock> {
  if (config.clock.kind === 'wall') return makeWallClock();
  const { rate, startsAt } = config.clock;
  const head = await ledger.readHead();
  const [last] =
    head === 0 ? [] : await ledger.readFacts({ afterSequence: (head - 1) as Sequence, limit: 1 });
  const rows = await air.readLatest([...shop.bayOfSensor.keys()], FAR_FUTURE_AT);
  const known = [...rows.map((row) => row.recordedAt), ...(last === undefined ? [] : [last.recordedAt])];
  const firstAt = localInstant(startsAt, { timeZone: shop.timeZone, todayAt: instantFromMs(Date.now()) });
  const startAt = known.length === 0 ? firstAt : (Math.max(...known) as Instant);
  return makePacedClock({ startAt, rate });
}

function makeDoors(
  shop: Shop,
  { version, refused }: { version: string; refused: Doors['readRefusedPayloads'] },
): Doors {
  return {
    nowAt: () => shop.clock.nowAt(),
    recordReading: (readings) => recordReading(shop, readings),
    startBatch: (ask) => startBatch(shop, ask),
    handleCommand: (batchId, ask) => handleCommand(shop, batchId, ask),
    acknowledgeAlert: (alertId, ask) => acknowledgeAlert(shop, alertId, ask),
    readSnapshot: () => readSnapshot(shop),
    readAlerts: () => readAlerts(shop),
    readBatches: (which) => readBatches(shop, which),
    readBatch: (batchId) => readBatch(shop, batchId),
    readBays: () => readBays(shop),
    readAirHistory: (bayId, question) => readAirHistory(shop, bayId, question),
    readCards: () => presentCards(shop),
    readSensors: () => readSensors(shop),
    readRefusedPayloads: refused,
    readHealth: () => readHealth(shop, version),
  };
}

function listen(server: Server, { host, port }: { host: string; port: number }): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => resolve());
  });
}

function portOf(server: Server, port: number): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : port;
}

function portTaken(
  key: 'http' | 'mqtt',
  { host, port }: { host: string; port: number },
): (error: unknown) => never {
  return (error) => {
    const code = (error as NodeJS.ErrnoException).code;
    const why = code === 'EADDRINUSE' ? 'is in use' : `cannot be opened (${code ?? String(error)})`;
    const variable = key === 'http' ? 'SANDBY_HTTP_PORT' : 'SANDBY_MQTT_PORT';
    throw new StartError(
      `${key}.port: port ${port} on ${host} ${why}; free it, change it in the config, or set ${variable}`,
    );
  };
}

function greeting(
  { config, shop }: Settings,
  { address, mqttPort, configFile }: { address: string; mqttPort: number; configFile: string },
): string {
  const isSimulated = config.clock.kind === 'simulated';
  const what = isSimulated
    ? `a simulated shop at ${config.clock.kind === 'simulated' ? config.clock.rate : 1} × speed`
    : shop.name;
  const hint = isSimulated ? '\n  your own shop: npm start -- --config config/shop.example.json' : '';
  return `Sandby shows ${what}\n  open ${address}\n  sensors: mqtt port ${mqttPort}, topic ${config.mqtt.topicPrefix}/readings/SENSOR\n  config: ${configFile}${hint}`;
}

function startSimulator(
  { config }: Settings,
  { address, mqttPort, log }: { address: string; mqttPort: number; log: Log },
): ChildProcess | null {
  if (config.simulator === undefined) return null;
  const { scenario, seed } = config.simulator;
  const mqttUrl = `mqtt://${config.mqtt.host}:${mqttPort}`;
  const flags = [
    '--scenario',
    scenario,
    '--http',
    address,
    '--mqtt',
    mqttUrl,
    '--prefix',
    config.mqtt.topicPrefix,
    '--seed',
    `${seed}`,
  ];
  const child = fork(join(findProgramFolder(), 'dist', 'sensors-sim', 'main.js'), flags, {
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  child.on('exit', (code) => log.info('simulator.ended', { code }));
  return child;
}

/** Stops taking, finishes what was taken, flushes, closes; ends with 0. */
function stopOnSignal(parts: {
  simulator: ChildProcess | null;
  server: Server;
  broker: OpenBroker;
  feed: ReturnType<typeof openFeed>;
  shop: Shop;
  log: Log;
}): void {
  const { simulator, server, broker, feed, shop, log } = parts;
  let isStopping = false;
  async function stop(signal: string): Promise<void> {
    if (isStopping) return;
    isStopping = true;
    log.info('program.stopping', { signal });
    setTimeout(() => process.exit(1), STOP_MAX_MS).unref();
    simulator?.kill('SIGTERM');
    shop.clock.stop();
    server.closeIdleConnections();
    await Promise.all([feed.close(), broker.close()]);
    await shop.turns(() => shop.ledger.close());
    process.exit(0);
  }
  process.on('SIGTERM', () => void stop('SIGTERM'));
  process.on('SIGINT', () => void stop('SIGINT'));
}

main().catch((error: unknown) => {
  const isExpected = error instanceof StartError || (error instanceof Error && error.name === 'ConfigError');
  if (isExpected) exitWithLine(error);
  throw error;
});
