// Every tap of the day under its key: what was asked, what was answered, and what the ledger must hold of it.
import type { KeptBody } from '../../../dashboard/state/kept.ts';
import type { Answer } from '../../../server/application/ports/doors.ts';
import type { Fact, FactType } from '../../../server/domain/facts.ts';
import { canonicalJson } from '../../support/canonicalJson.ts';
import type { World } from './world.ts';

export interface Tap {
  readonly key: string;
  /** Signs the fact of this tap and of no other, where the tap can carry a sign. */
  readonly mark: string;
  readonly body: KeptBody;
  /** The first answer that was given, whether it arrived or not. */
  first: string | null;
  /** What the screen was told. */
  told: Answer['kind'] | null;
  isDropped: boolean;
}

export interface Taps {
  /** Notes a tap before it is sent. */
  add(tap: Pick<Tap, 'key' | 'mark' | 'body'>): void;
  /** The program has answered, whoever gets it. */
  answered(key: string, answer: Answer): void;
  /** The screen was told. */
  seen(key: string, answer: Answer): void;
  /** The screen gave it up: too old. */
  drop(key: string): void;
  list(): readonly Tap[];
}

/** Makes a list of taps that holds answers against each other as they come. */
export function makeTaps(world: World): Taps {
  const taps = new Map<string, Tap>();
  return {
    add: (tap) => void taps.set(tap.key, { ...tap, first: null, told: null, isDropped: false }),
    answered(key, answer) {
      const tap = taps.get(key) as Tap;
      world.count(`answers ${answer.kind}`);
      world.note(`answer ${key} ${answer.kind} ${answer.kind === 'refused' ? answer.refusal.code : ''}`);
      // A "no" is not kept, since the reason for it may be gone; but what was done is never refused afterwards.
      if (answer.kind === 'refused' && tap.first === null) return;
      const text = textOf(answer);
      if (tap.first !== null && tap.first !== text)
        world.violate(`key ${key} was answered twice: ${tap.first} and ${text}`);
      tap.first ??= text;
    },
    seen(key, answer) {
      (taps.get(key) as Tap).told = answer.kind;
    },
    drop(key) {
      (taps.get(key) as Tap).isDropped = true;
    },
    list: () => [...taps.values()],
  };
}

/** What is wrong between the taps and the ledger. */
export function checkTaps(taps: readonly Tap[], facts: readonly Fact[]): string[] {
  const found: string[] = [];
  const acts = new Map<string, number>();
  for (const { by, type } of facts) {
    // "Powders" is two facts of one tap, an undo of it likewise.
    if (by !== null && type !== 'SandingStarted')
      acts.set(`${by} ${type}`, (acts.get(`${by} ${type}`) ?? 0) + 1);
  }
  const seen = new Map<string, number>();
  for (const fact of facts)
    if (fact.type === 'AlertAcknowledged')
      seen.set(fact.body.alertId, (seen.get(fact.body.alertId) ?? 0) + 1);
  for (const [alertId, count] of seen) if (count > 1) found.push(`alert ${alertId} was seen ${count} times`);
  for (const { key, mark, body, told, first } of taps) {
    if (body.kind === 'acknowledgement') {
      const isGone = facts.some(
        (fact) => fact.type === 'AlertWithdrawn' && fact.body.alertId === body.alertId,
      );
      if ((told === 'done' || told === 'seen') && !seen.has(body.alertId) && !isGone)
        found.push(`alert ${body.alertId} was said to be seen and is not`);
      continue;
    }
    const type = body.kind === 'start' ? 'BatchStarted' : FACT_OF[body.command.type];
    const count = acts.get(`${mark} ${type}`) ?? 0;
    const most = type === 'FactUndone' ? 2 : 1;
    if (count > most) found.push(`tap ${key} stands ${count} times in the ledger`);
    if (told === 'done' && count === 0) found.push(`tap ${key} was acknowledged and is not in the ledger`);
    // A "no" is not kept under its key (decision 19): a repeat that comes later may be done when its reason is gone.
    if (told === 'refused' && first === null && count > 0)
      found.push(`tap ${key} was refused and is in the ledger`);
  }
  return found;
}

const FACT_OF = {
  markSpread: 'BatchSpread',
  recordCheck: 'CheckRecorded',
  finishSanding: 'BatchSanded',
  scrap: 'BatchScrapped',
  moveToBay: 'BatchMoved',
  switchLamp: 'LampSwitched',
  undo: 'FactUndone',
} as const satisfies Record<string, FactType>;

function textOf(answer: Answer): string {
  if (answer.kind === 'done') return canonicalJson(answer.batch);
  return answer.kind === 'seen' ? canonicalJson(answer.alert) : answer.kind;
}
