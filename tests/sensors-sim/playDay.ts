// Plays a stretch of a scenario against the fake server, as the real one is played against, without waiting.
import { instantFromIso, type Instant } from '../../server/contract/index.ts';
import type { Reading } from '../../sensors-sim/air/sensor.ts';
import type { Truth } from '../../sensors-sim/people/crew.ts';
import { type Play, startPlay, stepPlay } from '../../sensors-sim/play.ts';
import type { Scenario } from '../../sensors-sim/scenarios/scenario.ts';
import type { FakeServer } from './fakeServer.ts';

/** An instant that the test writes out. */
export function at(text: string): Instant {
  const instant = instantFromIso(text);
  if (instant === null) throw new RangeError(text);
  return instant;
}

export interface Played {
  readonly play: Play;
  readonly readings: readonly Reading[];
  readonly refusals: readonly string[];
  readonly truths: readonly Truth[];
}

/** Starts a play at an instant and goes on for some minutes. */
export function playFor(
  server: FakeServer,
  {
    scenario,
    fromAt,
    forMin,
    seed = 7,
  }: { scenario: Scenario; fromAt: Instant; forMin: number; seed?: number },
  eachStep: (play: Play) => void = () => undefined,
): Played {
  const started = startPlay({
    scenario,
    seed,
    timeZone: 'UTC',
    nowAt: fromAt,
    shown: [],
    newestReadingAt: null,
  });
  let { play } = started;
  const readings = [...started.readings];
  const refusals: string[] = [];
  const truths = [...started.truths];
  const takeAll = (acts: typeof started.acts): void => {
    refusals.push(...acts.flatMap((act) => server.take(act) ?? []));
  };
  takeAll(started.acts);
  for (let step = 0; step < forMin * 6; step += 1) {
    const next = stepPlay(play, server.view(play.shop.at));
    play = next.play;
    readings.push(...next.readings);
    truths.push(...next.truths);
    takeAll(next.acts);
    eachStep(play);
  }
  return { play, readings, refusals, truths };
}
