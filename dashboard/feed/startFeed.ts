// Starts everything that goes on behind the screens, in the order in which each needs the one before.
import { $isShut } from '../state/access.ts';
import { $connection } from '../state/sources.ts';
import { startAccess } from './access.ts';
import { startAlarm } from './alarm.ts';
import { startFocusKeeper } from './keepFocus.ts';
import { bringBackLastSeen, startLastSeen } from './lastSeen.ts';
import { connectLive } from './liveSocket.ts';
import { startOutbox } from './outbox.ts';
import { startPush } from './push.ts';
import { readSnapshot, startSnapshotRetry } from './snapshot.ts';
import { startServiceWorker } from './startServiceWorker.ts';
import { startTapGuard } from './tapGuard.ts';
import { startTimers } from './timers.ts';
import { startWakeLock } from './wakeLock.ts';

const FIRST_READ_AGAIN_MS = 3000;
/** A first answer that takes longer is not waited for with an empty page. */
const PATIENCE_MS = 2500;
/** The snapshot is read again this often, which sets the clock right and heals what was missed. */
const REFRESH_MS = 60_000;

/** Reads the shop until it answers, then follows it live. */
export async function startFeed(): Promise<void> {
  startTapGuard();
  startFocusKeeper();
  startOutbox();
  startAccess();
  startAlarm();
  startTimers();
  startWakeLock();
  startServiceWorker();
  startPush();
  startLastSeen();
  const patience = setTimeout(openWithout, PATIENCE_MS);
  while (!(await readSnapshot())) {
    openWithout();
    await new Promise((resolve) => {
      setTimeout(resolve, FIRST_READ_AGAIN_MS);
    });
  }
  clearTimeout(patience);
  connectLive();
  startSnapshotRetry();
  setInterval(() => void readSnapshot(), REFRESH_MS);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void readSnapshot();
  });
}

/** Says that there is no connection, and goes on from what was seen last. */
function openWithout(): void {
  if ($isShut.peek()) return;
  $connection.value = 'lost';
  bringBackLastSeen();
}
