// A local time of day as an instant: where the simulated day starts.
import { type Instant, instantFromMs } from '../../contract/index.ts';

const DAY_MS = 24 * 60 * 60_000;

/** Today's instant at a local time of day ("06:40") in a zone, today being the local day of another instant. */
export function localInstant(
  timeOfDay: string,
  { timeZone, todayAt }: { timeZone: string; todayAt: Instant },
): Instant {
  const wanted = timeOfDay.split(':').map(Number) as [number, number];
  const wantedMs = (wanted[0] * 60 + wanted[1]) * 60_000;
  // Twice, since the day of a clock change is not 24 hours long.
  const guess = todayAt + wantedMs - localTimeOfDayMs(todayAt, timeZone);
  return instantFromMs(guess + wrap(wantedMs - localTimeOfDayMs(guess, timeZone)));
}

function localTimeOfDayMs(epochMs: number, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(epochMs);
  const part = (type: string): number => Number(parts.find((one) => one.type === type)?.value ?? 0);
  return (
    ((part('hour') * 60 + part('minute')) * 60 + part('second')) * 1000 + (((epochMs % 1000) + 1000) % 1000)
  );
}

/** A correction of at most half a day, either way. */
function wrap(offsetMs: number): number {
  if (offsetMs > DAY_MS / 2) return offsetMs - DAY_MS;
  return offsetMs < -DAY_MS / 2 ? offsetMs + DAY_MS : offsetMs;
}
