// The live feed: each change once and in order to every screen, a resync where one has missed something.
import type { IncomingMessage, Server as HttpServer } from 'node:http';
import { Server } from 'socket.io';
import { isFromHere } from '../../contract/index.ts';
import type { Ended, Standing } from '../../application/ports/accessDoors.ts';
import { type Counters, NO_COUNTERS } from '../../application/ports/counters.ts';
import type { LiveFeed } from '../../application/ports/live.ts';
import { makeFeedMemory } from './feedMemory.ts';

export interface OpenFeed extends LiveFeed {
  /** Starts to serve screens through an HTTP server; `admit` gives null for those that may not follow. */
  attach(
    server: HttpServer,
    start: { ledgerId: string; sequence: number },
    admit?: (request: IncomingMessage) => Standing | null,
  ): void;
  /** Cuts the sockets of somebody who has lost the way in; who still has another way comes back by it. */
  readonly cut: (ended: Ended) => void;
  /** How many screens are connected. */
  clientCount(): number;
  close(): Promise<void>;
}

/** Makes a feed that remembers recent changes; a screen further behind reads the snapshot. */
export function openFeed(counters: Counters = NO_COUNTERS): OpenFeed {
  const memory = makeFeedMemory();
  let io: Server | null = null;
  return {
    publishChange(change) {
      memory.takeChange(change);
      counters.add('sandby_live_messages_total', { kind: 'change' });
      io?.of('/live').emit('change', change);
    },
    publishAir(message) {
      counters.add('sandby_live_messages_total', { kind: 'air' });
      io?.of('/live').emit('air', message);
    },
    publishResync(sequence) {
      memory.takeResync(sequence);
      counters.add('sandby_live_messages_total', { kind: 'resync' });
      io?.of('/live').emit('resync');
    },
    attach(server, start, admit = admitFromHere) {
      memory.begin(start);
      io = new Server(server, {
        serveClient: false,
        allowRequest: (request, answer) => answer(null, admit(request) !== null),
      });
      io.of('/live').on('connection', (socket) => {
        const standing = admit(socket.request);
        // It may have ended between the handshake and this.
        if (standing === null) return void socket.disconnect(true);
        socket.data = standing;
        const missed = memory.missedBy(socket.handshake.auth);
        counters.add('sandby_live_joins_total', { outcome: outcomeOf(missed) });
        socket.on('gap', () => counters.add('sandby_sequence_gaps_total', {}));
        if (missed === 'resync') socket.emit('resync');
        else for (const change of missed) socket.emit('change', change);
      });
    },
    cut({ kind, id }) {
      for (const socket of io?.of('/live').sockets.values() ?? []) {
        const { deviceId, sessionId } = socket.data as Standing;
        if ((kind === 'device' && deviceId === id) || (kind === 'session' && sessionId === id))
          socket.disconnect(true);
      }
    },
    clientCount: () => io?.of('/live').sockets.size ?? 0,
    async close() {
      await io?.close();
    },
  };
}

/** Without sign-in pages of this very machine follow the shop. */
function admitFromHere({ headers }: IncomingMessage): Standing | null {
  return isFromHere(headers) ? { deviceId: null, sessionId: null, right: 'manage' } : null;
}

/** What a screen that joins is told first. */
function outcomeOf(missed: readonly unknown[] | 'resync'): string {
  if (missed === 'resync') return 'resync';
  return missed.length === 0 ? 'level' : 'caught-up';
}
