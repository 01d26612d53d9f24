// What if: the estimate of a mix that is not started, or of a batch in another bay, lamp or air. Nothing is stored.
import type { BatchCommand, Instant, PreviewBatch, StartBatch } from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import { isCuring } from '../domain/batch.ts';
import { decideCommand, refuse } from '../domain/decideCommand.ts';
import { decideStart } from '../domain/decideStart.ts';
import type { BatchId, Sequence } from '../domain/facts.ts';
import type { AirOfBays } from '../domain/filmJob.ts';
import { instantAfter } from '../domain/minutes.ts';
import { cardOf, estimateWith } from './advanceBatch.ts';
import { extendHistory, placeFacts, readHistory } from './appendFacts.ts';
import { readLearned } from './lessonViews.ts';
import type { Preview } from './ports/doors.ts';
import { presentEstimate } from './present.ts';
import { makeAirReader } from './readBayAir.ts';
import type { Shop } from './shop.ts';

/** Estimates a mix as if it were started. */
export async function previewStart(shop: Shop, body: StartBatch): Promise<Preview> {
  const decision = decideStart(body, {
    batchId: 'preview' as BatchId,
    card: shop.cards.get(body.cardId) ?? null,
    bayIds: shop.facts.bays.map((bay) => bay.id),
    nowAt: shop.clock.nowAt(),
  });
  if (decision.kind === 'refused') return decision;
  const started = extendHistory({ state: null, facts: [] }, placeFacts(shop, decision.facts, 0 as Sequence));
  return estimateOf(shop, started.state as BatchState, (bays) => bays);
}

/** Estimates an open batch as if it were moved, lit or in other air from now on. */
export async function previewBatch(shop: Shop, body: PreviewBatch): Promise<Preview> {
  const history = await readHistory(shop, body.batchId as BatchId);
  if (history.state === null) return refuse('unknown-batch', 'There is no such batch.');
  if (!isCuring(history.state)) return refuse('batch-closed', 'This batch no longer cures.');
  let changed = history;
  for (const command of commandsOf(body, history.state)) {
    const state = changed.state as BatchState;
    const decision = decideCommand(state, command, {
      card: cardOf(shop, state),
      nowAt: shop.clock.nowAt(),
      bayIds: shop.facts.bays.map((bay) => bay.id),
      lamps: shop.facts.lamps,
      facts: changed.facts,
    });
    if (decision.kind === 'refused') return decision;
    changed = extendHistory(changed, placeFacts(shop, decision.facts, changed.facts.length as Sequence));
  }
  return estimateOf(shop, changed.state as BatchState, withAirFromNow(shop, body.airTemperatureC));
}

function commandsOf({ bayId, lampId, distanceCm, forMin }: PreviewBatch, state: BatchState): BatchCommand[] {
  const commands: BatchCommand[] = [];
  if (bayId !== undefined && bayId !== state.bayId) commands.push({ type: 'moveToBay', bayId });
  if (lampId !== undefined)
    commands.push({ type: 'switchLamp', lampId, distanceCm, forMin: forMin ?? LAMP_MIN });
  return commands;
}

/** A lamp is tried for this long when nothing is said [min]. */
const LAMP_MIN = 10;

async function estimateOf(
  shop: Shop,
  state: BatchState,
  changeAir: (bays: AirOfBays) => AirOfBays,
): Promise<Preview> {
  const bays = changeAir(await makeAirReader(shop)(state));
  const estimate = estimateWith(shop, state, { bays, learned: await readLearned(shop, state.cardId) });
  return { kind: 'done', estimate: presentEstimate(state, estimate, shop.clock.nowAt()) };
}

/** The air so far, and from now on a value held. */
function withAirFromNow(shop: Shop, airTemperatureC: number | undefined): (bays: AirOfBays) => AirOfBays {
  if (airTemperatureC === undefined) return (bays) => bays;
  const nowAt = shop.clock.nowAt();
  return (bays) => ({
    ...bays,
    airOf(bayId) {
      const known = bays.airOf(bayId);
      const { air } = known;
      const past = air.filter((point) => point.at < nowAt);
      const last = past.at(-1);
      const step = last === undefined ? [] : [{ at: (nowAt - 1) as Instant, measurement: last.measurement }];
      // A plateau as long as a slope is asked over: what is tried is a level, not where the air was going.
      const level = [0, 1, 2, 3].map((index) => ({
        at: instantAfter(nowAt, index * 10),
        measurement: airTemperatureC,
      }));
      return { ...known, air: [...past, ...step, ...level] };
    },
  });
}
