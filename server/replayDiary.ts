// Days again: a diary's lines through the real middle of a shop in memory, on a clock that goes as fast as it is worked.
import { makeSteppedClock } from './adapters/clock/steppedClock.ts';
import { makeDiaryLabels, type PlacedLine, playLine } from './adapters/diary/playLine.ts';
import { makeMemoryStore } from './adapters/ledger/memory/makeMemoryStore.ts';
import { catchUp, makeShop } from './application/openShop.ts';
import type { Ledger } from './application/ports/ledger.ts';
import type { Log } from './application/ports/live.ts';
import type { Shop } from './application/shop.ts';
import { instantFromMs, type Refusal } from './contract/index.ts';
import type { Fact } from './domain/facts.ts';
import { makeDoors } from './makeDoors.ts';

/** What came of a line: facts in the ledger's order, each with the label of its batch; a no, and why; or a truth told. */
export type ReplayEvent =
  | { readonly kind: 'fact'; readonly fact: Fact; readonly label: string | null }
  | Extract<PlacedLine['line'], { readonly kind: 'truth' }>
  | { readonly kind: 'refused'; readonly lineIndex: number; readonly refusal: Refusal };

export interface ReplayedShop {
  readonly facts: Shop['facts'];
  readonly cards: Shop['cards'];
  readonly log: Log;
}

/** Open batches go on for this long after the last line, so that they reach their alerts. */
const AFTERWARDS_MS = 12 * 60 * 60_000;

/** Plays lines that were judged to fit together. */
export async function* replayDiary(
  lines: AsyncIterable<PlacedLine> | Iterable<PlacedLine>,
  replayed: ReplayedShop,
): AsyncGenerator<ReplayEvent> {
  const events: ReplayEvent[] = [];
  let stage: Stage | null = null;
  for await (const { line, lineIndex } of lines) {
    stage ??= await openStage(line.at, { replayed, events });
    await stage.clock.moveTo(line.at);
    const refusal = await playLine(stage, { line, lineIndex });
    if (refusal !== null) events.push({ kind: 'refused', lineIndex, refusal });
    if (line.kind === 'truth') events.push(line);
    yield* events.splice(0);
  }
  if (stage === null) return;
  await stage.clock.moveTo(instantFromMs(stage.clock.nowAt() + AFTERWARDS_MS));
  stage.clock.stop();
  yield* events.splice(0);
}

type Stage = Awaited<ReturnType<typeof openStage>>;

async function openStage(
  startAt: PlacedLine['line']['at'],
  { replayed, events }: { readonly replayed: ReplayedShop; readonly events: ReplayEvent[] },
) {
  const clock = makeSteppedClock(startAt);
  const labels = makeDiaryLabels();
  const { ledger, air } = makeMemoryStore();
  const shop = makeShop({
    ...replayed,
    air,
    clock,
    ledger: overheard(ledger, (fact) =>
      events.push({ kind: 'fact', fact, label: labels.labelOf(fact.batchId) }),
    ),
    live: NOBODY_LOOKS,
    makeId: () => labels.makeId(),
  });
  await catchUp(shop);
  return { clock, labels, doors: makeDoors(shop, { version: '', refused: () => [] }) };
}

/** The same ledger; whatever it has taken is told. */
export function overheard(ledger: Ledger, tell: (fact: Fact) => void): Ledger {
  return {
    ...ledger,
    async append(entry) {
      const appended = await ledger.append(entry);
      if (appended.kind === 'appended') entry.facts.forEach(tell);
      return appended;
    },
  };
}

const NOBODY_LOOKS: Shop['live'] = {
  publishChange: () => undefined,
  publishAir: () => undefined,
  publishResync: () => undefined,
};
