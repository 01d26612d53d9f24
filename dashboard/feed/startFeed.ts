// Starts everything that goes on behind the screens, in the order in which each needs the one before.
import { $connection } from '../state/sources.ts';
import { startAlarm } from './alarm.ts';
import { connectLive } from './liveSocket.ts';
import { startOutbox } from './outbox.ts';
import { readSnapshot, startSnapshotRetry } from './snapshot.ts';
import { startTapGuard } from './tapGuard.ts';
import { startWakeLock } from './wakeLock.ts';

const FIRST_READ_AGAIN_MS = 3000;
/** The snapshot is read again this often, which sets the clock right and heals what was missed. */
const REFRESH_MS = 60_000;

/** Reads the shop until it answers, then follows it live. */
export async function startFeed(): Promise<void> {
  startTapGuard();
  startOutbox();
  startAlarm();
  startWakeLock();
  while (!(await readSnapshot())) {
    $connection.value = 'lost';
    await new Promise((resolve) => {
      setTimeout(resolve, FIRST_READ_AGAIN_MS);
    });
  }
  connectLive();
  startSnapshotRetry();
  setInterval(() => void readSnapshot(), REFRESH_MS);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void readSnapshot();
  });
}
