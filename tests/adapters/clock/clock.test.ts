// The shop's clock: a simulated day at a rate, wakes that come once, and local times of day as instants.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { localInstant } from '../../../server/adapters/clock/localInstant.ts';
import { makePacedClock, makeWallClock } from '../../../server/adapters/clock/pacedClock.ts';
import {
  type Instant,
  instantFromIso,
  instantFromMs,
  isoFromInstant,
} from '../../../server/contract/index.ts';

const at = (iso: string): Instant => instantFromIso(iso) as Instant;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a paced clock', () => {
  it('runs twenty times as fast as the wall from where it starts', () => {
    const clock = makePacedClock({ startAt: at('2026-01-12T06:40:00Z'), rate: 20 });
    vi.advanceTimersByTime(3000);
    expect(isoFromInstant(clock.nowAt())).toBe('2026-01-12T06:41:00.000Z');
    expect(clock.rate).toBe(20);
  });

  it('wakes once when the instant is reached, and only for the last wish', () => {
    const clock = makePacedClock({ startAt: at('2026-01-12T06:40:00Z'), rate: 20 });
    const early = vi.fn();
    const late = vi.fn();
    clock.wakeAt(at('2026-01-12T06:41:00Z'), early);
    clock.wakeAt(at('2026-01-12T06:42:00Z'), late);
    vi.advanceTimersByTime(5999);
    expect(late).not.toHaveBeenCalled();
    vi.advanceTimersByTime(2);
    expect(late).toHaveBeenCalledTimes(1);
    vi.advanceTimersByTime(60_000);
    expect(late).toHaveBeenCalledTimes(1);
    expect(early).not.toHaveBeenCalled();
  });

  it('reaches an instant that lies further ahead than a timer can count', () => {
    const clock = makeWallClock();
    const due = vi.fn();
    clock.wakeAt(instantFromMs(clock.nowAt() + 40 * 24 * 60 * 60_000), due);
    vi.advanceTimersByTime(39 * 24 * 60 * 60_000);
    expect(due).not.toHaveBeenCalled();
    vi.advanceTimersByTime(2 * 24 * 60 * 60_000);
    expect(due).toHaveBeenCalledTimes(1);
  });

  it('does not wait for an hour to be lived twice when the wall clock is put back', () => {
    const clock = makeWallClock();
    const due = vi.fn();
    clock.wakeAt(instantFromMs(clock.nowAt() + 60_000), due);
    vi.setSystemTime(Date.now() - 60 * 60_000);
    vi.advanceTimersByTime(59_999);
    expect(due).not.toHaveBeenCalled();
    vi.advanceTimersByTime(2);
    expect(due).toHaveBeenCalledTimes(1);
  });

  it('comes within the delay when the wall clock is put on, and once', () => {
    const clock = makeWallClock();
    const due = vi.fn();
    clock.wakeAt(instantFromMs(clock.nowAt() + 60_000), due);
    vi.setSystemTime(Date.now() + 24 * 60 * 60_000);
    vi.advanceTimersByTime(60_001);
    expect(due).toHaveBeenCalledTimes(1);
    vi.advanceTimersByTime(60_001);
    expect(due).toHaveBeenCalledTimes(1);
  });

  it('forgets what was asked when it stops or is called off', () => {
    const clock = makeWallClock();
    const run = vi.fn();
    clock.after(100, run)();
    clock.after(100, run);
    clock.wakeAt(instantFromMs(clock.nowAt() + 100), run);
    clock.stop();
    vi.advanceTimersByTime(1000);
    expect(run).not.toHaveBeenCalled();
  });
});

describe('a local time of day', () => {
  it.each([
    ['in winter', '06:40', 'Europe/Madrid', '2026-01-12T12:00:00Z', '2026-01-12T05:40:00.000Z'],
    ['in summer', '06:40', 'Europe/Madrid', '2026-07-12T12:00:00Z', '2026-07-12T04:40:00.000Z'],
    [
      'on the day the clocks go forward',
      '06:40',
      'Europe/Madrid',
      '2026-03-29T00:30:00Z',
      '2026-03-29T04:40:00.000Z',
    ],
    [
      'on the day the clocks go back',
      '06:40',
      'Europe/Madrid',
      '2026-10-24T23:30:00Z',
      '2026-10-25T05:40:00.000Z',
    ],
    [
      'where it is already tomorrow',
      '06:40',
      'Pacific/Auckland',
      '2026-01-12T12:00:00Z',
      '2026-01-12T17:40:00.000Z',
    ],
  ])('is the right instant %s', (_what, timeOfDay, timeZone, today, expected) => {
    expect(isoFromInstant(localInstant(timeOfDay, { timeZone, todayAt: at(today) }))).toBe(expected);
  });
});
