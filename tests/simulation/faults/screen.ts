// A screen as the page runs it: the page's own pure state, its queue of taps, and the loops around them (dashboard/feed).
import { applyLiveMessage, mergeBatch } from '../../../dashboard/state/applyLiveMessage.ts';
import { type Kept, type KeptBody, partByAge, withKept, withoutKept } from '../../../dashboard/state/kept.ts';
import type { LiveMessage, LiveState } from '../../../dashboard/state/liveState.ts';
import type { Answer, Doors } from '../../../server/application/ports/doors.ts';
import { batchCommandBody, startBatchBody } from '../../../server/contract/index.ts';
import { ask, connect, type Link } from './network.ts';
import type { Program, Told } from './program.ts';
import type { Taps } from './taps.ts';
import { often } from './sensors.ts';
import type { World } from './world.ts';

export interface Screen {
  readonly name: string;
  state(): LiveState | null;
  kept(): readonly Kept[];
  /** A person taps something. */
  submit(body: KeptBody, key: string): void;
  /** Somebody reloads the page: what is shown is gone, what was tapped is kept. */
  reload(): void;
}

const FIRST_READ_AGAIN_MS = 3000;
const REFRESH_MS = 60_000;
const TRY_AGAIN_EVERY_MS = 5000;
const RETRY_AFTER_MS = 700;
const SNAPSHOT_AGAIN_COUNT_MAX = 3;

/** Opens a screen and keeps it going. */
export function openScreen(
  world: World,
  program: Program,
  { name, taps }: { name: string; taps: Taps },
): Screen {
  const chance = world.chance(`screen ${name}`);
  let state: LiveState | null = null;
  let kept: readonly Kept[] = [];
  let link: Link | null = null;
  let isReading = false;
  let isAskedAgain = false;
  let isInTrouble = false;
  let isSending = false;

  function apply(message: LiveMessage): void {
    const before = state;
    const applied = applyLiveMessage(state, message);
    state = applied.state;
    if (
      before !== null &&
      state !== null &&
      before.ledgerId === state.ledgerId &&
      state.sequence < before.sequence
    )
      world.violate(`screen ${name} went back from ${before.sequence} to ${state.sequence}`);
    if (applied.outcome === 'behind') void readSnapshot();
  }

  async function readSnapshot(): Promise<boolean> {
    if (isReading) {
      isAskedAgain = true;
      return false;
    }
    isReading = true;
    let isRead = await readOnce();
    for (let again = 0; isAskedAgain && again < SNAPSHOT_AGAIN_COUNT_MAX; again += 1) {
      isAskedAgain = false;
      isRead = await readOnce();
    }
    isAskedAgain = false;
    isReading = false;
    return isRead;
  }

  async function readOnce(): Promise<boolean> {
    const reply = await ask(world, program, { put: (doors) => doors.readSnapshot() });
    isInTrouble = reply.kind === 'unanswered';
    if (reply.kind === 'unanswered') return false;
    apply({ kind: 'snapshot', snapshot: reply.answer });
    return true;
  }

  function follow(): void {
    const auth = { ledgerId: state?.ledgerId, sequence: state?.sequence };
    link = connect(world, program, { auth, onTold: take, onLost: comeBack });
    if (link === null) comeBack();
    else if (kept.length > 0) void flush();
  }
  function comeBack(): void {
    world.after(chance.between(500, 4000), follow);
  }
  function take(told: Told): void {
    apply(told);
  }

  async function open(): Promise<void> {
    while (!(await readSnapshot())) await world.wait(FIRST_READ_AGAIN_MS);
    follow();
    every(REFRESH_MS, () => void readSnapshot());
    every(FIRST_READ_AGAIN_MS, () => (isInTrouble ? void readSnapshot() : undefined));
    every(TRY_AGAIN_EVERY_MS, () => (kept.length > 0 ? void flush() : undefined));
  }
  function every(eachMs: number, run: () => void): void {
    world.after(eachMs, () => {
      run();
      every(eachMs, run);
    });
  }

  async function flush(): Promise<void> {
    if (isSending) return;
    isSending = true;
    const { fresh, tooOld } = partByAge(kept, world.time.elapsedMs());
    for (const { key } of tooOld) taps.drop(key);
    kept = fresh;
    for (const entry of kept) if (!(await sendTwice(entry))) break;
    isSending = false;
  }
  async function sendTwice(entry: Kept): Promise<boolean> {
    if (await send(entry)) return true;
    if (link?.isUp() !== true) return false;
    await world.wait(RETRY_AFTER_MS);
    return send(entry);
  }
  /** Whether it was answered. */
  async function send(entry: Kept): Promise<boolean> {
    const reply = await ask(world, program, {
      put: (doors) => put(doors, entry),
      onAnswer: (answer) => taps.answered(entry.key, answer),
    });
    if (reply.kind === 'unanswered') return false;
    taps.seen(entry.key, reply.answer);
    kept = withoutKept(kept, entry.key);
    if (reply.answer.kind === 'done' && state !== null) state = mergeBatch(state, reply.answer.batch);
    if (reply.answer.kind !== 'done' || link?.isUp() !== true) void readSnapshot();
    return true;
  }

  often(
    world,
    `cuts ${name}`,
    ({ cutsPerHour }) => cutsPerHour,
    () => link?.cut(),
  );
  void open();
  return {
    name,
    state: () => state,
    kept: () => kept,
    submit(body, key) {
      const keptAt = world.time.elapsedMs();
      kept = withKept(kept, { key, body, panel: '', tappedAt: world.time.nowAt(), keptAt });
      world.note(`tap ${name} ${key} ${JSON.stringify(body)}`);
      void flush();
    },
    reload() {
      state = null;
      void readSnapshot();
    },
  };
}

/** As the HTTP door does it: parsed by the contract, under the key of the tap. */
async function put(doors: Doors, { key, body }: Kept): Promise<Answer> {
  switch (body.kind) {
    case 'start':
      return doors.startBatch({ key, body: startBatchBody.parse(body.start) });
    case 'command':
      return doors.handleCommand(body.batchId, { key, body: batchCommandBody.parse(body.command) });
    case 'acknowledgement':
      return doors.acknowledgeAlert(body.alertId, { key, body: {} });
  }
}
