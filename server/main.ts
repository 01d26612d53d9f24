// The composition root: reads the config, opens the ports, ties the use cases to the doors, and keeps them until told to stop.
import { randomUUID } from 'node:crypto';
import type { Server } from 'node:http';
import { join } from 'node:path';
import { shareNews } from './application/deliverNews.ts';
import { calibrateCards, catchUp, findStrays, makeShop } from './application/openShop.ts';
import { PortFailure } from './application/ports/portFailure.ts';
import { recallSettings } from './application/settingsView.ts';
import type { Shop } from './application/shop.ts';
import { openBroker, type OpenBroker } from './adapters/broker/openBroker.ts';
import { ConfigError, describeRejections, readConfig, type Settings } from './adapters/config/readConfig.ts';
import { openFeed } from './adapters/feed/openFeed.ts';
import { makeGuard } from './adapters/http/guard.ts';
import { makeApp } from './adapters/http/makeApp.ts';
import { lockFolder } from './adapters/ledger/sqlite/lockFolder.ts';
import { makeSqliteAccess } from './adapters/ledger/sqlite/makeSqliteAccess.ts';
import { openKeyStore } from './adapters/ledger/sqlite/openKeyStore.ts';
import type { StoreWork } from './adapters/ledger/sqlite/storeWork.ts';
import { makeLog } from './adapters/log/pinoLog.ts';
import { countDoors, countLedger } from './adapters/metrics/countDoors.ts';
import { openMeter } from './adapters/metrics/openMeter.ts';
import { exitWithLine, readConfigFlag, StartError } from './commandLine.ts';
import { makeDoors } from './makeDoors.ts';
import { makeShopClock } from './makeShopClock.ts';
import { openEntry } from './openEntry.ts';
import { openOutlet, type Outlet } from './openOutlet.ts';
import { keepStore, type OpenStore, openShopStore, whyNotOpened } from './openStore.ts';
import { findProgramFolder, readVersion } from './programFiles.ts';
import { spawnStoreWork } from './spawnStoreWork.ts';
import { startSimulator } from './startSimulator.ts';
import { stopOnSignal } from './stopOnSignal.ts';

type Store = OpenStore & {
  /** What no copy of the shop holds. */
  readonly keys: ReturnType<typeof openKeyStore>;
};

/** Screens wait no longer than this for a shop of hundreds of open batches; they are told of the rest as it comes. */
const CATCH_UP_MAX_MS = 150;

async function main(): Promise<void> {
  const programFolder = findProgramFolder();
  const version = readVersion(programFolder);
  const configFile = readConfigFlag(process.argv.slice(2), programFolder);
  const settings = readConfig(configFile, process.env);
  const log = makeLog('info');
  const work = spawnStoreWork();
  const { keys, ...store } = openStore(settings, work);
  const clock = await makeShopClock(settings, store);
  const meter = openMeter();
  const { counters } = meter;
  const feed = openFeed(counters);
  const news = shareNews(feed);
  const shop = makeShop({
    facts: settings.shop,
    cards: calibrate(settings, configFile),
    ...store,
    ledger: countLedger(store.ledger, counters),
    clock,
    live: news.live,
    log,
    counters,
    makeId: randomUUID,
  });
  await recallSettings(shop);
  await refuseStrays(shop, configFile);
  const { caughtUp } = await catchUp(shop, CATCH_UP_MAX_MS);
  const { http, mqtt } = settings.config;
  const entry = await openEntry(settings, { shop, store: makeSqliteAccess(keys) });
  const outlet = await openOutlet(settings.config, { shop, keys, listen: news.listen });
  // The doors need the broker's list and the broker needs the doors: the list is asked for only when someone looks.
  let broker: OpenBroker | null = null;
  const doors = makeDoors(shop, { version, refused: () => broker?.refused.list() ?? [] });
  broker = await openBroker(mqtt, {
    doors: countDoors(doors, { counters, door: 'mqtt' }),
    log,
    access: entry.access,
    makeServer: entry.makeBrokerServer,
  }).catch(portTaken('mqtt', mqtt));
  const server = entry.makeWebServer(
    makeApp({
      doors: countDoors(doors, { counters, door: 'http' }),
      log,
      version,
      pagesFolder: join(programFolder, 'dist', 'dashboard'),
      readMetrics: () => meter.read({ doors, version, feed, refused: broker?.refused ?? null }),
      access: entry.route,
      notify: outlet.doors,
    }),
  );
  meter.watchAnswers(server);
  const { admit } = makeGuard({ ...entry.route, tls: entry.route.tls.http });
  feed.attach(server, { ledgerId: shop.ledger.ledgerId, sequence: await shop.ledger.readHead() }, admit);
  entry.whenEnded.push(feed.cut, broker.cut, outlet.endDevice);
  await listen(server, http).catch(portTaken('http', http));
  const address = entry.addressAt(portOf(server, http.port));
  process.stdout.write(greeting(settings, { address, mqttPort: broker.port }));
  const simulator = startSimulator(settings, { address, mqttPort: broker.port, log });
  startAfter(caughtUp, { outlet, broker });
  keepStore(shop, settings, work);
  stopOnSignal({ simulator, server, broker, feed, shop, outlet, keys });
}

/** What is over meanwhile must not go out as if it stood. A fault ends the program, as one before its doors are open does. */
function startAfter(
  caughtUp: Promise<void>,
  { outlet, broker }: { outlet: Outlet; broker: OpenBroker },
): void {
  void caughtUp.then(() => outlet.start(broker));
}

async function refuseStrays(shop: Shop, configFile: string): Promise<void> {
  const [stray] = await findStrays(shop);
  if (stray === undefined) return;
  throw new StartError(
    `${configFile}: an open batch would be lost: ${stray}; keep it until that batch is closed`,
  );
}

function openStore(settings: Settings, work: StoreWork): Store {
  const { dataFolder } = settings;
  try {
    // Held until the process ends; nobody has to let it go.
    lockFolder(dataFolder);
    return { ...openShopStore(settings, work), keys: openKeyStore(dataFolder) };
  } catch (error) {
    if (error instanceof PortFailure) throw whyNotOpened(error, settings);
    throw error;
  }
}

function calibrate(settings: Settings, configFile: string): Shop['cards'] {
  const calibrated = calibrateCards(settings.cards);
  if (calibrated.kind === 'calibrated') return calibrated.cards;
  const file = join(configFile, '..', settings.config.cardsFile);
  throw new StartError(describeRejections(file, calibrated.rejections));
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
  { address, mqttPort }: { address: string; mqttPort: number },
): string {
  const sensors = `sensors publish to mqtt port ${mqttPort}, topic ${config.mqtt.topicPrefix}/readings/SENSOR`;
  if (config.clock.kind === 'wall') return `Sandby runs ${shop.name}\n  open ${address}\n  ${sensors}\n`;
  return (
    `Sandby shows a simulated shop at ${config.clock.rate} × speed\n  open ${address}\n  ${sensors}\n` +
    '  your own shop: npm start -- --config config/shop.example.json\n'
  );
}

main().catch((error: unknown) => {
  if (error instanceof StartError || error instanceof ConfigError) exitWithLine(error);
  throw error;
});
