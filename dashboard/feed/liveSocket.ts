// The live feed: changes in order, air as it comes; a gap or a resync leads back to the snapshot.
import { io, type Socket } from 'socket.io-client';
import type { AirMessage, ChangeWire } from '../../server/contract/index.ts';
import { $accessDoubts } from '../state/access.ts';
import { applyLiveMessage } from '../state/applyLiveMessage.ts';
import type { LiveMessage, Outcome } from '../state/liveState.ts';
import { $connection, $live } from '../state/sources.ts';
import { readSnapshot, snapshotAgeMs } from './snapshot.ts';

const COME_BACK_MS = 2000;

/** Connects once a snapshot is held; reconnects by itself for as long as the page lives. */
export function connectLive(): Socket {
  const socket = io('/live', {
    auth: (answer) => {
      const { ledgerId, sequence } = $live.peek() ?? {};
      answer({ ledgerId, sequence, snapshotAgeMs: snapshotAgeMs() });
    },
    reconnectionDelay: 500,
    reconnectionDelayMax: 4000,
  });
  socket.on('connect', () => {
    $connection.value = 'live';
  });
  socket.on('disconnect', (reason) => {
    // The server itself has cut it: this device may have been ended.
    if (reason === 'io server disconnect') $accessDoubts.value += 1;
    lose(socket);
  });
  socket.on('connect_error', () => lose(socket));
  socket.on('change', (change: ChangeWire) => {
    // Told so that the shop's figures count it; the snapshot heals it in any case.
    if (take({ kind: 'change', change }) === 'behind') socket.emit('gap');
  });
  socket.on('air', (air: AirMessage) => take({ kind: 'air', air }));
  socket.on('resync', () => take({ kind: 'resync' }));
  return socket;
}

/** After a cut by the server itself the client does not come back on its own. */
function lose(socket: Socket): void {
  $connection.value = 'lost';
  setTimeout(() => {
    if (!socket.connected && !socket.active) socket.connect();
  }, COME_BACK_MS);
}

function take(message: LiveMessage): Outcome {
  const { state, outcome } = applyLiveMessage($live.peek(), message);
  $live.value = state;
  if (outcome === 'behind') void readSnapshot();
  return outcome;
}
