// A receiver of webhooks or push messages on loopback, plain or by TLS: keeps what comes, answers as told.
import { createServer, type IncomingMessage, type RequestListener, type ServerResponse } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import type { Certificate } from './makeCertificate.ts';

export interface Received {
  readonly path: string;
  readonly headers: IncomingMessage['headers'];
  readonly body: Buffer;
}

export interface Receiver {
  readonly address: string;
  readonly received: Received[];
  /** How it answers from now on; 204 when never set. */
  answer: (response: ServerResponse, request: Received) => void;
  close(): Promise<void>;
}

/** Opens one. */
export async function openReceiver(certificate: Certificate | null = null): Promise<Receiver> {
  const listener: RequestListener = (request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const one = { path: request.url ?? '', headers: request.headers, body: Buffer.concat(chunks) };
      receiver.received.push(one);
      receiver.answer(response, one);
    });
  };
  const server = certificate === null ? createServer(listener) : createTlsServer(certificate, listener);
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  const receiver: Receiver = {
    address: certificate === null ? `http://127.0.0.1:${port}` : `https://localhost:${port}`,
    received: [],
    answer: (response) => void response.writeHead(204).end(),
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
  return receiver;
}
