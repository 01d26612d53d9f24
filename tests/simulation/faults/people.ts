// People at the screens: they follow the stages that they are shown, and make mistakes.
import { expectBatch, type KeptBody } from '../../../dashboard/state/kept.ts';
import type { LiveState } from '../../../dashboard/state/liveState.ts';
import type { BatchCommandWire, BatchWire, PutSettings } from '../../../server/contract/index.ts';
import type { Doors } from '../../../server/application/ports/doors.ts';
import type { SetupAnswer } from '../../../server/application/ports/setupDoors.ts';
import { canonicalJson } from '../../support/canonicalJson.ts';
import { ask } from './network.ts';
import type { Program } from './program.ts';
import type { Screen } from './screen.ts';
import type { Taps } from './taps.ts';
import type { Chance, World } from './world.ts';

const LOOK_EVERY_MS = [8000, 40_000] as const;
const OPEN_BATCHES_MAX = 3;
const CARD_IDS = ['body-filler', 'lightweight-filler', 'finishing-putty', 'winter-filler'];

/** Lets a person work at a screen until told to go. */
export function sendPerson(world: World, screen: Screen, taps: Taps): { goHome(): void } {
  const chance = world.chance(`person ${screen.name}`);
  let isHome = false;
  function look(): void {
    if (isHome) return;
    world.after(chance.between(...LOOK_EVERY_MS), look);
    const state = screen.state();
    if (state === null) return;
    if (chance.is(0.005)) screen.reload();
    const mark = `k${world.next()}`;
    const body = decide(world, chance, { state: expected(state, screen), mark });
    if (body === null) return;
    tap(body, mark);
    // A thumb that taps twice makes two taps.
    if (chance.is(world.plan.mistakeShare / 4)) tap(withMark(body, `${mark}b`), `${mark}b`);
  }
  function tap(body: KeptBody, mark: string): void {
    const key = `key-${mark}`;
    taps.add({ key, mark, body });
    screen.submit(body, key);
  }
  world.after(chance.between(...LOOK_EVERY_MS), look);
  return {
    goHome() {
      isHome = true;
    },
  };
}

function expected(state: LiveState, screen: Screen): LiveState {
  return { ...state, batches: state.batches.map((batch) => expectBatch(batch, screen.kept())) };
}

function withMark(body: KeptBody, mark: string): KeptBody {
  if (body.kind === 'start') return { ...body, start: { ...body.start, by: mark } };
  return body.kind === 'command' ? { ...body, command: { ...body.command, by: mark } } : body;
}

interface Look {
  readonly state: LiveState;
  readonly mark: string;
}

function decide(world: World, chance: Chance, { state, mark }: Look): KeptBody | null {
  const isMistaken = chance.is(world.plan.mistakeShare);
  const alert = state.alerts.length > 0 && chance.is(0.15) ? chance.from(state.alerts) : null;
  if (alert !== null) return { kind: 'acknowledgement', alertId: alert.id };
  if (state.batches.length < OPEN_BATCHES_MAX && chance.is(0.25)) return start(chance, { mark, isMistaken });
  if (state.batches.length === 0) return null;
  const batch = chance.from(state.batches);
  const command = isMistaken ? mistake(chance, batch) : nextAct(chance, batch);
  if (command === null) return null;
  const isDated = chance.is(0.1);
  const at = isDated ? new Date(world.time.nowAt() - chance.whole(1, 5) * 60_000).toISOString() : undefined;
  const isStale = isMistaken && chance.is(0.3);
  return {
    kind: 'command',
    batchId: isMistaken && chance.is(0.1) ? 'nobody' : batch.id,
    command: {
      ...command,
      by: mark,
      ...(at === undefined ? {} : { at }),
      ...(isStale
        ? { expectedVersion: batch.version + 1 }
        : chance.is(0.3)
          ? { expectedVersion: batch.version }
          : {}),
    },
  };
}

function start(chance: Chance, { mark, isMistaken }: { mark: string; isMistaken: boolean }): KeptBody {
  return {
    kind: 'start',
    start: {
      cardId: isMistaken ? 'nothing' : chance.from(CARD_IDS),
      panel: chance.from(['Roof', 'Sill', 'Bonnet', 'Left front door']),
      bayId: chance.from(['bay-1', 'bay-2']),
      // Thin films are solved in a fifth of the time of thick ones.
      thicknessMm: chance.from([0.5, 0.5, 0.5, 0.5, 1]),
      substrate: chance.from(['steel', 'aluminium']),
      hardenerPct: chance.from([1.5, 2, 2.5]),
      by: mark,
    },
  };
}

/** What the stage calls for, not always at once. */
function nextAct(chance: Chance, batch: BatchWire): BatchCommandWire | null {
  if (chance.is(0.04)) return { type: 'moveToBay', bayId: batch.bayId === 'bay-1' ? 'bay-2' : 'bay-1' };
  if (chance.is(0.01))
    return { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 90, forMin: chance.from([0, 5, 10]) };
  if (chance.is(0.02)) return { type: 'scrap' };
  if (chance.is(0.05) && batch.lastAct !== null)
    return { type: 'undo', factSequence: batch.lastAct.factSequence };
  switch (batch.stage) {
    case 'wet':
      return batch.spreadAt === null && chance.is(0.5) ? { type: 'markSpread' } : null;
    case 'kicked':
      return chance.is(0.05) ? { type: 'recordCheck', outcome: 'gums' } : null;
    case 'test':
      if (chance.is(0.5)) return null;
      return chance.is(0.3)
        ? { type: 'recordCheck', outcome: 'gums' }
        : { type: 'recordCheck', outcome: 'powders', firstTry: chance.is(0.5) };
    case 'sanding':
      return chance.is(0.5) ? { type: 'finishSanding' } : null;
    case 'sanded':
    case 'scrapped':
      return null;
  }
}

/** Something that the stage may not allow. */
function mistake(chance: Chance, batch: BatchWire): BatchCommandWire {
  return chance.from<BatchCommandWire>([
    { type: 'recordCheck', outcome: 'powders' },
    { type: 'recordCheck', outcome: 'gums' },
    { type: 'finishSanding' },
    { type: 'markSpread' },
    { type: 'moveToBay', bayId: batch.bayId },
    { type: 'moveToBay', bayId: 'nowhere' },
    { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 11, forMin: 5 },
    { type: 'undo', factSequence: Math.max(1, (batch.lastAct?.factSequence ?? 2) - 1) },
  ]);
}

/** Somebody changes the shop's settings from time to time, each time until it is answered. */
export async function manageShop(
  world: World,
  program: Program,
  onFinal: (change: { readonly mark: string; readonly answer: SetupAnswer<unknown> }) => void,
): Promise<void> {
  const chance = world.chance('manager');
  const plan = world.plan;
  while (plan.hasSetup) {
    await world.wait(chance.between(5, 25) * 60_000);
    if (world.plan !== plan) return;
    const mark = `m${world.next()}`;
    const wish = drawWish(chance, mark);
    let first: string | null = null;
    const onAnswer = (answer: SetupAnswer<unknown>): void => {
      world.note(`setup ${mark} ${answer.kind}`);
      if (answer.kind !== 'done') return;
      const text = canonicalJson(answer.body);
      if (first !== null && first !== text)
        world.violate(`setup ${mark} was answered twice: ${first} and ${text}`);
      first ??= text;
    };
    for (let tryCount = 0; tryCount < 100; tryCount += 1) {
      const reply = await ask(world, program, { put: wish, onAnswer });
      if (reply.kind === 'answered') {
        onFinal({ mark, answer: reply.answer });
        break;
      }
      await world.wait(3000);
    }
  }
}

function drawWish(chance: Chance, mark: string): (doors: Doors) => Promise<SetupAnswer<unknown>> {
  const kind = chance.from(['settings', 'settings', 'sensor', 'card'] as const);
  const key = `setup-${mark}`;
  if (kind === 'sensor') {
    const bayId = chance.from(['bay-1', 'bay-2', null]);
    return (doors) => doors.putSensor('stranger-1', { key, body: { bayId, by: mark } });
  }
  if (kind === 'card') {
    const workingMin = chance.from([4.5, 5, 5.5]);
    const body = { ...CARD, workingMin, by: mark };
    return (doors) => doors.putCard('own-filler', { key, body });
  }
  const body: PutSettings = {
    by: mark,
    alerts: { waitingMin: chance.whole(5, 30), sensorQuietMin: chance.whole(8, 12) },
  };
  return (doors) => doors.putSettings({ key, body });
}

const CARD = {
  name: 'Own filler',
  fill: 'regular',
  atC: 20,
  thicknessMm: 1,
  hardenerPct: 2,
  sandMin: 17.5,
  lowestC: 10,
  thicknessMaxMm: 6,
} as const;
