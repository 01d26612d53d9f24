// A server on real sockets for the simulator's process tests: HTTP, a broker, a fast clock, and a list of what came in order.
import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { type AddressInfo, createServer as createTcpServer, type Socket } from 'node:net';
import { Aedes } from 'aedes';
import type { StartBatchWire, BatchCommandWire, BatchWire } from '../../../server/contract/index.ts';
import { makeFakeServer } from '../fakeServer.ts';

export interface FakeShop {
  readonly httpUrl: string;
  readonly mqttUrl: string;
  /** What came in, in order. */
  readonly came: { readonly what: string; readonly body: unknown; readonly key: string | null }[];
  readonly batches: Map<string, BatchWire>;
  /** Stops answering HTTP as a crashed server does, and comes back on the same port. */
  goAway(): Promise<void>;
  comeBack(): Promise<void>;
  /** Goes on with an empty ledger of this name. */
  setLedger(ledgerId: string): void;
  close(): Promise<void>;
}

/** Opens a shop whose clock starts at an instant and runs at a rate. */
export async function openFakeShop({ startAt, rate }: { startAt: number; rate: number }): Promise<FakeShop> {
  const came: FakeShop['came'] = [];
  const server = makeFakeServer();
  const idByKey = new Map<string, string>();
  const openedMs = performance.now();
  const nowAt = (): number => startAt + (performance.now() - openedMs) * rate;
  let ledgerId = 'ledger-1';

  const broker = await Aedes.createBroker();
  const mqtt = createTcpServer((socket) => broker.handle(socket));
  const mqttPort = await listen(mqtt, 0);
  broker.on('publish', ({ topic, payload }, client) => {
    if (client !== null) came.push({ what: topic, body: JSON.parse(payload.toString()), key: null });
  });

  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const url = request.url ?? '';
    const body: unknown = request.method === 'POST' ? JSON.parse(await textOf(request)) : null;
    const send = (status: number, json: unknown): void => {
      response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(json));
    };
    const open = [...server.view(nowAt()).batches.values()];
    if (url === '/api/v1/snapshot')
      return send(200, snapshotOf({ ledgerId, nowAt: nowAt(), rate, batches: open }));
    if (url === '/api/v1/batches?open=true') return send(200, { sequence: 1, batches: open });
    const key = String(request.headers['idempotency-key'] ?? '');
    came.push({ what: url, body, key });
    if (url === '/api/v1/batches') {
      const start = body as StartBatchWire;
      const own = `own ${idByKey.size}`;
      idByKey.set(`batch ${own}`, own);
      server.take({ key: own, at: Date.parse(start.mixedAt ?? '') as never, kind: 'start', body: start });
      return send(201, server.batches.get(own));
    }
    const own = idByKey.get(decodeURIComponent(url.split('/')[4] ?? '')) ?? '';
    const command = body as BatchCommandWire;
    const code = server.take({
      key: own,
      at: Date.parse(command.at ?? '') as never,
      kind: 'command',
      body: command,
    });
    if (code === null) send(200, server.batches.get(own));
    else send(409, { type: 'about:blank', title: 'no', status: 409, code });
  };

  let sockets = new Set<Socket>();
  let http = createServer((request, response) => void answer(request, response));
  const track = (): void => {
    http.on('connection', (socket) => sockets.add(socket));
  };
  track();
  const httpPort = await listen(http, 0);
  const goAway = async (): Promise<void> => {
    for (const socket of sockets) socket.destroy();
    sockets = new Set();
    await new Promise((resolve) => http.close(resolve));
  };
  return {
    httpUrl: `http://127.0.0.1:${httpPort}`,
    mqttUrl: `mqtt://127.0.0.1:${mqttPort}`,
    came,
    batches: server.batches,
    goAway,
    comeBack: async () => {
      http = createServer((request, response) => void answer(request, response));
      track();
      await listen(http, httpPort);
    },
    setLedger: (next) => {
      ledgerId = next;
      server.batches.clear();
    },
    close: async () => {
      if (http.listening) await goAway();
      await new Promise<void>((resolve) => broker.close(() => resolve()));
      await new Promise((resolve) => mqtt.close(resolve));
    },
  };
}

async function listen(server: Server | ReturnType<typeof createTcpServer>, port: number): Promise<number> {
  server.listen(port, '127.0.0.1');
  await once(server, 'listening');
  return (server.address() as AddressInfo).port;
}

async function textOf(request: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString();
}

function snapshotOf(known: { ledgerId: string; nowAt: number; rate: number; batches: BatchWire[] }): unknown {
  const units = { temperature: 'C', length: 'mm', mass: 'g' };
  const own = { language: 'en', units, sound: true };
  const shop = { name: 'A shop', timeZone: 'UTC', simulated: true, testProbabilityPct: 80, ...own };
  return { ...known, nowAt: new Date(known.nowAt).toISOString(), shop, bays: [] };
}
