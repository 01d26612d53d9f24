// What screens read: everything they show at one sequence, one bay, one batch, the sensors, the health of the parts.
import type {
  BatchWire,
  BayWire,
  CardWire,
  HealthWire,
  Instant,
  SnapshotWire,
  TroublePart,
} from '../contract/index.ts';
import { isoFromInstant, isoFromInstantOrNull } from '../contract/index.ts';
import type { BatchState } from '../domain/batch.ts';
import type { Card } from '../domain/card.ts';
import type { BatchId } from '../domain/facts.ts';
import type { LearnedProduct } from '../domain/learned.ts';
import type { BaySetting } from '../domain/settingsChange.ts';
import { readHistory, readOpenBatches } from './appendFacts.ts';
import { copiesInShort } from './keepCopies.ts';
import { readLearned } from './lessonViews.ts';
import { type AlertView, presentAlert, presentBatch, presentFact } from './present.ts';
import { newestOf, sensorsOfBay } from './readBayAir.ts';
import { readBayLatest } from './readBayRows.ts';
import { dewPointOrNull } from './recordReading.ts';
import type { Shop } from './shop.ts';

/** Older air is shown as stale. */
const STALE_AFTER_S = 45 * 60;

/** Everything a screen shows; taken in a turn, so that no append falls between its parts. */
export async function readSnapshot(shop: Shop): Promise<SnapshotWire> {
  return shop.turns(async () => {
    const nowAt = shop.clock.nowAt();
    const { name, timeZone, isSimulated, testProbability, language, units, isSounding } = shop.facts;
    return {
      ledgerId: shop.ledger.ledgerId,
      sequence: await shop.ledger.readHead(),
      nowAt: isoFromInstant(nowAt),
      rate: shop.clock.rate,
      shop: {
        name,
        timeZone,
        simulated: isSimulated,
        testProbabilityPct: Math.round(testProbability * 100),
        language,
        units: { ...units },
        sound: isSounding,
      },
      bays: await readBays(shop),
      cards: await readCards(shop),
      lamps: shop.facts.lamps.map((lamp) => ({
        id: lamp.id,
        name: lamp.name,
        distancesCm: lamp.distances.map((one) => one.distanceCm),
      })),
      people: shop.facts.people
        .filter(({ isActive }) => isActive)
        .map(({ initials, name: called }) => ({ initials, name: called })),
      panels: [...shop.facts.panels],
      batches: (await readOpenBatches(shop)).map((state) => presentBatch(state, nowAt)),
      alerts: await readAlerts(shop),
      health: [...shop.troubles.keys()].every((part) => part === 'outbox') ? 'ok' : 'degraded',
      troubles: [...shop.troubles].map(([part, { code }]) => ({ part, code })),
      outbox: shop.troubles.has('outbox') ? 'late' : 'ok',
    };
  });
}

/** Open alerts. */
export async function readAlerts(shop: Shop): Promise<SnapshotWire['alerts']> {
  const views = await shop.ledger.readViews('alert', { openOnly: true });
  return views.map((view) => presentAlert(view.body as AlertView));
}

/** Batches at one sequence, open ones only when asked so. */
export async function readBatches(
  shop: Shop,
  which: { openOnly: boolean },
): Promise<{ sequence: number; batches: BatchWire[] }> {
  return shop.turns(async () => {
    const views = await shop.ledger.readViews('batch', which);
    const nowAt = shop.clock.nowAt();
    return {
      sequence: await shop.ledger.readHead(),
      batches: views.map((view) => presentBatch(view.body as BatchState, nowAt)),
    };
  });
}

/** One batch with its facts; null when there is none. */
export async function readBatch(
  shop: Shop,
  batchId: string,
): Promise<(BatchWire & { facts: Record<string, unknown>[] }) | null> {
  const { state, facts } = await readHistory(shop, batchId as BatchId);
  if (state === null) return null;
  return { ...presentBatch(state, shop.clock.nowAt()), facts: facts.map((fact) => presentFact(fact)) };
}

/** Every bay with its newest trusted air. */
export async function readBays(shop: Shop): Promise<BayWire[]> {
  const nowAt = shop.clock.nowAt();
  return Promise.all(shop.facts.bays.map((bay) => readBay(shop, bay, nowAt)));
}

async function readBay(shop: Shop, bay: BaySetting, nowAt: Instant): Promise<BayWire> {
  const sensorIds = sensorsOfBay(shop, bay.id);
  const rows = await readBayLatest(shop, bay.id, nowAt);
  const air = newestOf(rows, 'airTemperatureC');
  const humidity = newestOf(rows, 'relativeHumidityPct');
  const ageS = air === null ? null : (nowAt - air.at) / 1000;
  return {
    id: bay.id,
    name: bay.name,
    kind: bay.kind,
    airTemperatureC: air?.measurement ?? null,
    relativeHumidityPct: humidity?.measurement ?? null,
    dewPointC: dewPointOrNull({
      airTemperatureC: air?.measurement ?? null,
      relativeHumidityPct: humidity?.measurement ?? null,
    }),
    at: isoFromInstantOrNull(air?.at),
    ageS,
    trust: ageS === null ? 'none' : ageS > STALE_AFTER_S ? 'stale' : 'good',
    sensorIds,
    substrate: bay.substrate,
  };
}

/** The shop's cards, with what was learned of each. */
export async function readCards(shop: Shop): Promise<CardWire[]> {
  return Promise.all(
    [...shop.cards.values()].map(async (card) =>
      presentCard(card, { facts: shop.facts, learned: await readLearned(shop, card.id) }),
    ),
  );
}

function presentCard(
  card: Card,
  { facts, learned }: { facts: Shop['facts']; learned: LearnedProduct | null },
): CardWire {
  return {
    id: card.id,
    name: card.name,
    fill: card.fill,
    atC: card.atC,
    thicknessMm: card.thicknessMm,
    hardenerPct: card.hardenerPct,
    workingMin: card.workingMin,
    sandMin: card.sandMin,
    lowestC: card.lowestC,
    beadGramsPer10Cm: facts.beadOfCard.get(card.id) ?? facts.beadGramsPer10Cm,
    learned:
      learned === null || learned.batchCount === 0
        ? null
        : {
            version: learned.version,
            batchCount: learned.batchCount,
            ...learned.told,
            timeScale: Math.exp(learned.belief.logTimeScale),
            scatterSd: learned.belief.logScatterSd,
          },
  };
}

/** How the parts are; 'ok' each, or what is wrong. */
export async function readHealth(shop: Shop, version: string): Promise<HealthWire> {
  const part = (name: TroublePart): string => shop.troubles.get(name)?.sentence ?? 'ok';
  return {
    status: shop.troubles.size === 0 ? 'ok' : 'degraded',
    version,
    sequence: await shop.ledger.readHead(),
    parts: {
      ledger: shop.troubles.has('ledger') ? part('ledger') : part('integrity'),
      broker: part('broker'),
      // Quiet sensors are an alert, no fault of the program.
      sensors: 'ok',
      outbox: part('outbox'),
      copies: copiesInShort(shop),
    },
    outbox: {
      owedCount: shop.outbox.owedCount,
      oldestS: owedForS(shop),
      givenUpCount: shop.outbox.givenUpCount,
    },
  };
}

/** How long the oldest message has waited [s], in real time; null where none waits. */
export function owedForS({ outbox, clock }: Shop): number | null {
  return outbox.oldestAt === null ? null : (clock.nowAt() - outbox.oldestAt) / 1000 / clock.rate;
}
