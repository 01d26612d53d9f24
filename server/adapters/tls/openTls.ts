// Servers with or without TLS. A certificate is read at start, where a wrong one stops it, and again whenever its files
// change, where a wrong one is logged and the old one stays.
import { readFileSync, unwatchFile, watchFile } from 'node:fs';
import { createServer as createHttpServer, type RequestListener, type Server as HttpServer } from 'node:http';
import { createServer as createHttpsServer } from 'node:https';
import { createServer as createSocketServer, type Server as SocketServer, type Socket } from 'node:net';
import { createSecureContext, createServer as createTlsServer, type Server as TlsServer } from 'node:tls';
import type { Log } from '../../application/ports/live.ts';

export interface TlsFiles {
  readonly certFile: string;
  readonly keyFile: string;
}

export interface TlsParts {
  /** Null: plain. */
  readonly files: TlsFiles | undefined;
  /** The config's key, for messages. */
  readonly key: 'http.tls' | 'mqtt.tls';
  readonly log: Log;
  /** How often the files are looked at [ms]. */
  readonly lookEveryMs?: number;
}

/** A certificate that cannot be used; the message is one line that names key and file. */
export class TlsError extends Error {
  override readonly name = 'TlsError';
}

/** A certificate is renewed weeks before its end: no hurry. */
const LOOK_EVERY_MS = 5000;
const OLDEST = 'TLSv1.2';

/** Makes the server of pages and calls. */
export function makeWebServer(parts: TlsParts, listener: RequestListener): HttpServer {
  const { files } = parts;
  if (files === undefined) return createHttpServer(listener);
  return renewed(
    parts,
    files,
    createHttpsServer({ ...readPair(parts, files), minVersion: OLDEST }, listener),
  );
}

/** Makes the server of the broker. */
export function makeSocketServer(parts: TlsParts, listener: (socket: Socket) => void): SocketServer {
  const { files } = parts;
  if (files === undefined) return createSocketServer(listener);
  return renewed(parts, files, createTlsServer({ ...readPair(parts, files), minVersion: OLDEST }, listener));
}

function renewed<Server extends TlsServer>(parts: TlsParts, files: TlsFiles, server: Server): Server {
  const { key, log, lookEveryMs = LOOK_EVERY_MS } = parts;
  const read = (): void => {
    try {
      server.setSecureContext({ ...readPair(parts, files), minVersion: OLDEST });
      log.info('tls.renewed', { key });
    } catch (error) {
      // Half of a renewal: the certificate may be there before its key. The next change is looked at as well.
      log.error('tls.unreadable', { key, reason: error instanceof Error ? error.message : String(error) });
    }
  };
  const names = [files.certFile, files.keyFile];
  for (const name of names) watchFile(name, { interval: lookEveryMs, persistent: false }, read);
  server.once('close', () => {
    for (const name of names) unwatchFile(name, read);
  });
  return server;
}

/** Reads both files and tries them together; throws TlsError. */
function readPair({ key }: TlsParts, { certFile, keyFile }: TlsFiles): { cert: Buffer; key: Buffer } {
  const pair = { cert: readPem(`${key}.certFile`, certFile), key: readPem(`${key}.keyFile`, keyFile) };
  try {
    createSecureContext(pair);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const why =
      code === 'ERR_OSSL_X509_KEY_VALUES_MISMATCH'
        ? `the key in ${keyFile} does not belong to the certificate in ${certFile}`
        : `${certFile} and ${keyFile} are no certificate with its key (${message})`;
    throw new TlsError(`${key}: ${why}`);
  }
  return pair;
}

function readPem(key: string, file: string): Buffer {
  try {
    return readFileSync(file);
  } catch (error) {
    throw new TlsError(
      `${key}: ${file} cannot be read (${(error as NodeJS.ErrnoException).code ?? 'error'})`,
    );
  }
}
