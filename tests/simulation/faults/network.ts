// The network between screens and program: requests that get lost, come twice or lose their answer; live messages likewise.
import type { Doors } from '../../../server/application/ports/doors.ts';
import { PortFailure } from '../../../server/application/ports/portFailure.ts';
import type { Program, Running, Told } from './program.ts';
import type { World } from './world.ts';

export type Reply<T> = { readonly kind: 'answered'; readonly answer: T } | { readonly kind: 'unanswered' };

export interface Link {
  /** Puts it back on the line that it was connected to; nothing of it arrives any more, or only what was under way. */
  cut(): void;
  isUp(): boolean;
}

/** As the page does it (dashboard/feed/http.ts). */
const TIMEOUT_MS = 8000;

/** Asks the program something; every answer that it gives is shown, also one that nobody gets. */
export async function ask<T>(
  world: World,
  program: Program,
  { put, onAnswer = () => undefined }: { put: (doors: Doors) => Promise<T>; onAnswer?: (answer: T) => void },
): Promise<Reply<T>> {
  const chance = world.chance('requests');
  const { lostRequestShare, lostAnswerShare, repeatedRequestShare, latencyMaxMs } = world.plan;
  const timeout = world.wait(TIMEOUT_MS).then((): Reply<T> => ({ kind: 'unanswered' }));
  const isLost = chance.is(lostRequestShare);
  const isAnswerLost = chance.is(lostAnswerShare);
  const isRepeated = chance.is(repeatedRequestShare);
  const latencyMs = [chance.between(1, latencyMaxMs), chance.between(1, latencyMaxMs)] as const;
  async function reach(afterMs: number): Promise<Reply<T>> {
    await world.wait(afterMs);
    const running = program.running();
    if (running === null) return { kind: 'unanswered' };
    try {
      const answer = await put(running.doors);
      onAnswer(answer);
      return { kind: 'answered', answer };
    } catch (cause) {
      if (!(cause instanceof PortFailure)) world.violate(`a request ends with ${String(cause)}`);
      return { kind: 'unanswered' };
    }
  }
  async function go(): Promise<Reply<T>> {
    if (isLost) world.count('lost requests');
    if (isLost) return timeout;
    if (isAnswerLost) world.count('lost answers');
    if (isRepeated) world.count('repeated requests');
    if (isRepeated) void reach(latencyMs[0] + chance.between(1, 30_000));
    const reply = await reach(latencyMs[0]);
    if (isAnswerLost) return timeout;
    await world.wait(latencyMs[1]);
    return reply;
  }
  return Promise.race([go(), timeout]);
}

/** Connects a screen to the live feed; null when there is nothing to connect to. Messages keep their order on one line. */
export function connect(
  world: World,
  program: Program,
  {
    auth,
    onTold,
    onLost,
  }: { auth: Record<string, unknown>; onTold: (told: Told) => void; onLost: () => void },
): Link | null {
  const running = program.running();
  if (running === null) return null;
  const chance = world.chance('live');
  let isUp = true;
  let lastMs = 0;
  function tell(told: Told): void {
    const { lostLiveShare, repeatedLiveShare, latencyMaxMs } = world.plan;
    if (chance.is(lostLiveShare)) return world.count('lost live messages');
    const arrivesMs = Math.max(lastMs, world.time.elapsedMs() + chance.between(1, latencyMaxMs));
    lastMs = arrivesMs;
    // What was under way when the line was cut may still arrive, after what comes on the next line.
    const isLate = chance.is(0.5);
    const arrive = (): void => (isUp || isLate ? onTold(told) : undefined);
    world.after(arrivesMs - world.time.elapsedMs(), arrive);
    if (chance.is(repeatedLiveShare))
      world.after(arrivesMs - world.time.elapsedMs() + chance.between(1, 20_000), arrive);
  }
  running.listeners.add(tell);
  const missed = running.feed.missedBy(auth);
  if (missed === 'resync') tell({ kind: 'resync' });
  else for (const change of missed) tell({ kind: 'change', change });
  function cut(): void {
    if (!isUp) return;
    isUp = false;
    (running as Running).listeners.delete(tell);
    onLost();
  }
  watchLife(world, running, cut);
  return { cut, isUp: () => isUp };
}

/** A line ends with the program; it is noticed within seconds. */
function watchLife(world: World, { life, listeners }: Running, cut: () => void): void {
  const look = (): void => {
    if (!life.isAlive) return cut();
    if (listeners.size > 0) world.after(2000, look);
  };
  look();
}
