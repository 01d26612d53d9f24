// TLS by files: a wrong pair is told with its key, a renewed one is served without a restart, a broken renewal changes nothing.
import { copyFileSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { afterEach, describe, expect, it } from 'vitest';
import { makeWebServer, TlsError, type TlsFiles } from '../../../server/adapters/tls/openTls.ts';
import { makeTempFolder } from '../../support/runServer.ts';

const FIXTURES = 'tests/fixtures/tls';
const logged: string[] = [];
const log = {
  info: (event: string) => logged.push(event),
  warn: (event: string) => logged.push(event),
  error: (event: string) => logged.push(event),
};
const stops: (() => void)[] = [];
afterEach(() => {
  for (const stop of stops.splice(0)) stop();
  logged.length = 0;
});

function copyPair(name: string): TlsFiles {
  const folder = makeTempFolder();
  const files = { certFile: join(folder, 'cert.pem'), keyFile: join(folder, 'key.pem') };
  putPair(files, name);
  return files;
}

function putPair({ certFile, keyFile }: TlsFiles, name: string): void {
  copyFileSync(`${FIXTURES}/${name}.key.pem`, keyFile);
  copyFileSync(`${FIXTURES}/${name}.cert.pem`, certFile);
}

async function open(files: TlsFiles): Promise<number> {
  const server = makeWebServer({ files, key: 'http.tls', log, lookEveryMs: 20 }, (_request, response) => {
    response.end('hello');
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  stops.push(() => server.close());
  return (server.address() as AddressInfo).port;
}

async function nameServed(port: number): Promise<string> {
  return new Promise((done, fail) => {
    const socket = connect({ port, host: '127.0.0.1', rejectUnauthorized: false }, () => {
      const { subject } = socket.getPeerCertificate();
      socket.end();
      done(String(subject.CN));
    });
    socket.once('error', fail);
  });
}

describe('makeWebServer', () => {
  it('serves a renewed certificate without a restart', async () => {
    const files = copyPair('first');
    const port = await open(files);
    expect(await nameServed(port)).toBe('first.example');
    putPair(files, 'second');
    await expect.poll(() => nameServed(port), { timeout: 10_000 }).toBe('second.example');
    expect(logged).toContain('tls.renewed');
  });

  it('goes on with the old one when the new one is broken, and says so', async () => {
    const files = copyPair('first');
    const port = await open(files);
    writeFileSync(files.certFile, 'no certificate');
    await expect.poll(() => logged.includes('tls.unreadable'), { timeout: 10_000 }).toBe(true);
    expect(await nameServed(port)).toBe('first.example');
  });

  it.each<[string, (files: TlsFiles) => TlsFiles, RegExp]>([
    [
      'a certificate that is not there',
      (files) => ({ ...files, certFile: '/nowhere.pem' }),
      /^http\.tls\.certFile: .*ENOENT/,
    ],
    [
      'a key that is not there',
      (files) => ({ ...files, keyFile: '/nowhere.pem' }),
      /^http\.tls\.keyFile: .*ENOENT/,
    ],
    [
      'a key of another certificate',
      (files) => ({ ...files, keyFile: `${FIXTURES}/second.key.pem` }),
      /^http\.tls: the key in .* does not belong/,
    ],
    [
      'a file that is none',
      (files) => ({ ...files, certFile: 'package.json' }),
      /^http\.tls: .* are no certificate/,
    ],
  ])('refuses %s by its key in the config', (_what, wrong, says) => {
    const files = wrong(copyPair('first'));
    const make = () => makeWebServer({ files, key: 'http.tls', log }, () => undefined);
    expect(make).toThrow(TlsError);
    expect(make).toThrow(says);
  });
});
