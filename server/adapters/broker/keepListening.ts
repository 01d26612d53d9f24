// Keeps the broker's port: should it be lost while the program runs, it is opened again, and the shop hears of both.
import type { Server } from 'node:net';

export interface Listening {
  /** Lets the port go for good. */
  stop(): void;
}

const AGAIN_EVERY_MS = 1000;

/** Watches a server that listens; tells when it no longer does and when it does again. */
export function keepListening(
  server: Server,
  { host, port, tell }: { host: string; port: number; tell: (isListening: boolean) => void },
): Listening {
  let isStopped = false;
  let isLost = false;
  let again: NodeJS.Timeout | undefined;
  const tryAgain = (): void => {
    if (isStopped) return;
    if (!isLost) tell(false);
    isLost = true;
    clearTimeout(again);
    again = setTimeout(() => {
      if (!server.listening) server.listen(port, host);
    }, AGAIN_EVERY_MS).unref();
  };
  // A server that lost its port closes; one that finds it taken by another says so by an error. Others are of a socket.
  server.on('close', tryAgain);
  server.on('error', () => {
    if (!server.listening) tryAgain();
  });
  server.on('listening', () => {
    if (isLost) tell(true);
    isLost = false;
  });
  return {
    stop() {
      isStopped = true;
      clearTimeout(again);
    },
  };
}
