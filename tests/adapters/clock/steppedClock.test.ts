// The clock that moves only when told: order of what falls due, and that one turn of the event loop is enough for it.
import { describe, expect, it } from 'vitest';
import { makeSteppedClock } from '../../../server/adapters/clock/steppedClock.ts';
import { makeTurns } from '../../../server/application/turns.ts';
import { type Instant, instantFromMs } from '../../../server/contract/index.ts';
import { openTestShop, sayAir, start } from '../../support/testShop.ts';

const START_AT = instantFromMs(Date.UTC(2026, 0, 12, 7));
const after = (durationMs: number): Instant => instantFromMs(START_AT + durationMs);

describe('a stepped clock', () => {
  it('stands still until it is told, and then stands where it was told, elapsed time with it', async () => {
    const clock = makeSteppedClock(START_AT);
    await clock.breathe();
    expect([clock.nowAt(), clock.elapsedMs(), clock.rate]).toEqual([START_AT, 0, 1]);
    await clock.moveTo(after(90_000));
    expect([clock.nowAt(), clock.elapsedMs()]).toEqual([after(90_000), 90_000]);
  });

  it('runs what falls due on the way at its own instant and in order, the wake last of its instant', async () => {
    const clock = makeSteppedClock(START_AT);
    const ran: [string, number][] = [];
    const note = (name: string) => (): void => void ran.push([name, clock.elapsedMs()]);
    clock.after(3000, note('late'));
    clock.wakeAt(after(2000), note('wake'));
    clock.after(2000, note('first at 2'));
    clock.after(2000, note('second at 2'));
    clock.after(1000, note('early'));
    clock.after(9000, note('beyond'));
    clock.after(1500, note('called off'))();
    await clock.moveTo(after(3000));
    expect(ran).toEqual([
      ['early', 1000],
      ['first at 2', 2000],
      ['second at 2', 2000],
      ['wake', 2000],
      ['late', 3000],
    ]);
    await clock.moveTo(after(3000));
    expect(ran).toHaveLength(5);
  });

  it('keeps only the last wish to be woken, and none once it has stopped', async () => {
    const clock = makeSteppedClock(START_AT);
    const ran: string[] = [];
    clock.wakeAt(after(1000), () => ran.push('first'));
    clock.wakeAt(after(2000), () => ran.push('second'));
    clock.after(500, () => ran.push('timer'));
    await clock.moveTo(after(4000));
    expect(ran).toEqual(['timer', 'second']);
    clock.wakeAt(after(5000), () => ran.push('wake'));
    clock.after(500, () => ran.push('timer'));
    clock.stop();
    await clock.moveTo(after(9000));
    expect(ran).toEqual(['timer', 'second']);
  });

  it('runs on the same way what asks for more of itself, each at its own instant', async () => {
    const clock = makeSteppedClock(START_AT);
    const ranAtMs: number[] = [];
    const again = (): void => {
      ranAtMs.push(clock.elapsedMs());
      clock.wakeAt(instantFromMs(clock.nowAt() + 60_000), again);
    };
    clock.wakeAt(START_AT, again);
    await clock.moveTo(after(180_000));
    expect(ranAtMs).toEqual([0, 60_000, 120_000, 180_000]);
  });

  it('is done with a long chain of promises and turns before the next thing falls due', async () => {
    const clock = makeSteppedClock(START_AT);
    const turns = makeTurns();
    const ran: string[] = [];
    clock.after(1000, () => {
      for (const name of ['a', 'b', 'c']) {
        void turns(async () => {
          for (let link = 0; link < 5000; link += 1) await Promise.resolve().then(() => clock.breathe());
          ran.push(name);
        });
      }
    });
    clock.after(1001, () => ran.push('next'));
    await clock.moveTo(after(1001));
    expect(ran).toEqual(['a', 'b', 'c', 'next']);
  });

  it('is done with a whole shop in memory, so that moving once or in small steps gives the same', async () => {
    const changesBy = async (stepMs: number): Promise<unknown> => {
      const clock = makeSteppedClock(START_AT);
      const changes: unknown[] = [];
      const test = await openTestShop({
        clock,
        live: {
          publishChange: (change) => changes.push([clock.nowAt(), change.sequence]),
          publishAir: () => undefined,
          publishResync: () => undefined,
        },
      });
      const say = async (airC: number): Promise<unknown> => sayAir(test, airC, { at: clock.nowAt() });
      await say(15);
      await start(test);
      await clock.moveTo(after(5 * 60_000));
      await say(19);
      for (let ms = 5 * 60_000; ms <= 90 * 60_000; ms += stepMs) await clock.moveTo(after(ms));
      return changes;
    };
    const whole = await changesBy(85 * 60_000);
    expect((whole as unknown[]).length).toBeGreaterThan(4);
    expect(await changesBy(17_000)).toEqual(whole);
  });

  it('refuses to go back, and to run for ever at one instant', async () => {
    const clock = makeSteppedClock(START_AT);
    await expect(clock.moveTo(instantFromMs(START_AT - 1))).rejects.toThrow('cannot go back');
    const again = (): void => clock.wakeAt(clock.nowAt(), again);
    again();
    await expect(clock.moveTo(after(1))).rejects.toThrow('fell due');
  });
});
