// A port that nobody listens on just now, for a server that must come back to the same address.
import { createServer } from 'node:net';

/** Finds a free port on loopback. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await new Promise((done) => server.once('listening', done));
  const { port } = server.address() as { port: number };
  await new Promise((done) => server.close(done));
  return port;
}
