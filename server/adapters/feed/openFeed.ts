// The live feed: each change once and in order to every screen, a resync where one has missed something.
import type { Server as HttpServer } from 'node:http';
import { Server } from 'socket.io';
import { type ChangeWire, isFromHere } from '../../contract/index.ts';
import { type Counters, NO_COUNTERS } from '../../application/ports/counters.ts';
import type { LiveFeed } from '../../application/ports/live.ts';

export interface OpenFeed extends LiveFeed {
  /** Starts to serve screens through an HTTP server. */
  attach(server: HttpServer, start: { ledgerId: string; sequence: number }): void;
  /** How many screens are connected. */
  clientCount(): number;
  close(): Promise<void>;
}

/** Changes kept for screens that were away for a moment. */
const CHANGES_KEPT_COUNT = 500;

/** Makes a feed that remembers recent changes; a screen further behind reads the snapshot. */
export function openFeed(counters: Counters = NO_COUNTERS): OpenFeed {
  const kept: ChangeWire[] = [];
  let io: Server | null = null;
  let held = { ledgerId: '', sequence: 0 };
  return {
    publishChange(change) {
      counters.add('sandby_live_messages_total', { kind: 'change' });
      kept.push(change);
      if (kept.length > CHANGES_KEPT_COUNT) kept.shift();
      held = { ...held, sequence: change.sequence };
      io?.of('/live').emit('change', change);
    },
    publishAir(message) {
      counters.add('sandby_live_messages_total', { kind: 'air' });
      io?.of('/live').emit('air', message);
    },
    publishResync(sequence) {
      counters.add('sandby_live_messages_total', { kind: 'resync' });
      if (sequence !== undefined) {
        // What came before tells nobody any more of what is so now.
        kept.length = 0;
        held = { ...held, sequence };
      }
      io?.of('/live').emit('resync');
    },
    attach(server, start) {
      held = start;
      io = new Server(server, {
        serveClient: false,
        allowRequest: (request, answer) => answer(null, isFromHere(request.headers)),
      });
      io.of('/live').on('connection', (socket) => {
        const missed = missedSince(kept, held, socket.handshake.auth);
        counters.add('sandby_live_joins_total', { outcome: outcomeOf(missed) });
        socket.on('gap', () => counters.add('sandby_sequence_gaps_total', {}));
        if (missed === 'resync') socket.emit('resync');
        else for (const change of missed) socket.emit('change', change);
      });
    },
    clientCount: () => io?.of('/live').sockets.size ?? 0,
    async close() {
      await io?.close();
    },
  };
}

/** What a screen that holds a ledger at a sequence has missed; resync when that cannot be told from what is kept. */
export function missedSince(
  kept: readonly ChangeWire[],
  head: { ledgerId: string; sequence: number },
  auth: Readonly<Record<string, unknown>>,
): readonly ChangeWire[] | 'resync' {
  const { ledgerId, sequence } = auth;
  if (ledgerId !== head.ledgerId || typeof sequence !== 'number') return 'resync';
  if (sequence === head.sequence) return [];
  const first = kept.findIndex((change) => change.afterSequence === sequence);
  return first === -1 ? 'resync' : kept.slice(first);
}

/** What a screen that joins is told first. */
function outcomeOf(missed: readonly unknown[] | 'resync'): string {
  if (missed === 'resync') return 'resync';
  return missed.length === 0 ? 'level' : 'caught-up';
}
