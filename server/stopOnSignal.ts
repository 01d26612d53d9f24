// A clean stop: nothing new is taken, what was taken is finished and on disk, then the program ends with 0.
import type { ChildProcess } from 'node:child_process';
import type { Server } from 'node:http';
import type { Shop } from './application/shop.ts';
import type { OpenBroker } from './adapters/broker/openBroker.ts';
import type { OpenFeed } from './adapters/feed/openFeed.ts';
import type { Outlet } from './openOutlet.ts';

/** How long a stop may take before it is forced [ms]. */
const STOP_MAX_MS = 5000;
/** How long requests under way are given to finish [ms]. */
const GRACE_MS = 1000;

/** Stops taking, finishes what was taken, flushes, closes; ends with 0. */
export function stopOnSignal(parts: {
  simulator: ChildProcess | null;
  server: Server;
  broker: OpenBroker;
  feed: OpenFeed;
  shop: Shop;
  outlet: Outlet;
  /** The file of keys. */
  keys: { close(): void };
}): void {
  const { simulator, server, broker, feed, shop, outlet, keys } = parts;
  let isStopping = false;
  // A client that keeps its connection would go on asking: each answer from now on is its last.
  server.prependListener('request', (_request, response) => {
    if (isStopping) response.setHeader('Connection', 'close');
  });
  async function stop(signal: string): Promise<void> {
    if (isStopping) return;
    isStopping = true;
    shop.log.info('program.stopping', { signal });
    setTimeout(() => process.exit(1), STOP_MAX_MS).unref();
    simulator?.kill('SIGTERM');
    shop.copies?.shelf.stop();
    shop.clock.stop();
    outlet.stop();
    server.closeIdleConnections();
    // Whoever has said nothing by then is not heard any more: a browser's spare connection, half a request.
    setTimeout(() => server.closeAllConnections(), GRACE_MS).unref();
    await Promise.all([feed.close(), broker.close()]);
    await shop.turns(() => shop.ledger.close());
    keys.close();
    process.exit(0);
  }
  process.on('SIGTERM', () => void stop('SIGTERM'));
  process.on('SIGINT', () => void stop('SIGINT'));
}
