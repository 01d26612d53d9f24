// The way in: sign-in where the config has it, the addresses that count as ours, and certificates.
import type { RequestListener, Server as WebServer } from 'node:http';
import type { Server as SocketServer, Socket } from 'node:net';
import type { Shop } from './application/shop.ts';
import type { AccessStore } from './application/ports/accessStore.ts';
import type { AccessDoors, Ended } from './application/ports/accessDoors.ts';
import { drawCode } from './adapters/access/drawCode.ts';
import { makeSecrets } from './adapters/access/makeSecrets.ts';
import { makeOrigins } from './adapters/access/ownNames.ts';
import type { Settings } from './adapters/config/readConfig.ts';
import type { AccessRouteParts } from './adapters/http/accessRoutes.ts';
import { makeSocketServer, makeWebServer, TlsError } from './adapters/tls/openTls.ts';
import { StartError } from './commandLine.ts';
import { makeAccessDoors } from './makeAccessDoors.ts';

export interface Entry {
  /** Null: no sign-in. */
  readonly access: AccessDoors | null;
  /** For the HTTP application. */
  readonly route: AccessRouteParts;
  /** The address to open, on a port. */
  readonly addressAt: (port: number) => string;
  /** Told of everybody who has lost the way in. */
  readonly whenEnded: ((ended: Ended) => void)[];
  readonly makeWebServer: (listener: RequestListener) => WebServer;
  readonly makeBrokerServer: (listener: (socket: Socket) => void) => SocketServer;
}

/** Opens the way in; a certificate that cannot be used stops the start. */
export async function openEntry(
  { config }: Settings,
  { shop, store }: { shop: Shop; store: AccessStore },
): Promise<Entry> {
  const whenEnded: ((ended: Ended) => void)[] = [];
  const tell = (ended: Ended): void => whenEnded.forEach((listener) => listener(ended));
  const access =
    config.access === undefined ? null : await makeAccessDoors({ shop, store, secrets: makeSecrets() }, tell);
  const { log } = shop;
  const tls = { http: config.http.tls !== undefined, mqtt: config.mqtt.tls !== undefined };
  const origins = makeOrigins({
    tls: tls.http,
    listed: config.access?.origins,
    host: config.http.host,
  });
  return {
    access,
    route: { access, origins, tls, drawCode },
    addressAt: (port) => origins.addressFor(`${hostInUrl(config.http.host)}:${port}`),
    whenEnded,
    makeWebServer: (listener) =>
      orStartError(() => makeWebServer({ files: config.http.tls, key: 'http.tls', log }, listener)),
    makeBrokerServer: (listener) =>
      orStartError(() => makeSocketServer({ files: config.mqtt.tls, key: 'mqtt.tls', log }, listener)),
  };
}

function orStartError<T>(make: () => T): T {
  try {
    return make();
  } catch (error) {
    throw error instanceof TlsError ? new StartError(error.message) : error;
  }
}

/** An IPv6 address stands in brackets in an address of the web. */
function hostInUrl(host: string): string {
  return host.includes(':') ? `[${host}]` : host;
}
