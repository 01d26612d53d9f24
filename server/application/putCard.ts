// Products as people set them: tried first, then kept; open batches of the product are estimated with it from then on.
import {
  type CardPreviewWire,
  type CardSetupWire,
  parseWith,
  idField,
  type PreviewCard,
  type PutCard,
  type Rejection,
  UNSTATED_ON_CARDS,
} from '../contract/index.ts';
import type { Card, CardStated } from '../domain/card.ts';
import { previewCard as seeCard } from '../domain/previewCard.ts';
import { keptOf, type SettingsByHand, unseenTouches } from '../domain/settings.ts';
import type { SettingsChange } from '../domain/settingsChange.ts';
import { calibrateCard } from '../engine/index.ts';
import { bringCard } from './bringCard.ts';
import { changeSetup, type SetupDecision } from './changeSetup.ts';
import type { CardPreview, SetupAnswer, SetupAsk } from './ports/setupDoors.ts';
import { presentTouches } from './presentSettings.ts';
import { readByHand } from './settingsView.ts';
import type { Shop } from './shop.ts';

/** Products of a shop at most: each is calibrated at every start. */
const CARDS_COUNT_MAX = 200;

/** What a card would say, or why it cannot be; nothing is stored. */
export function previewCard(body: PreviewCard): CardPreview {
  const calibrated = calibrate(
    statedFrom({ id: 'preview', known: undefined }, { ...body, name: body.name ?? '-' }),
  );
  if (calibrated.kind === 'rejected') return calibrated;
  return { kind: 'done', preview: presentPreview(calibrated.card) };
}

/** One product with all that it states; null when there is none. */
export async function readCard(shop: Shop, cardId: string): Promise<CardSetupWire | null> {
  const card = shop.cards.get(cardId);
  return card === undefined ? null : presentSetup(shop, card, await readByHand(shop));
}

/** Puts a product, new or changed, or says why not. */
export async function putCard(
  shop: Shop,
  cardId: string,
  { key, body }: SetupAsk<PutCard>,
): Promise<SetupAnswer<CardSetupWire>> {
  return changeSetup(shop, {
    key,
    fingerprint: JSON.stringify(['card', cardId, body]),
    by: body.by ?? null,
    async decide({ cards }) {
      const kept = keptOf(cards, cardId);
      const touches = unseenTouches(kept, body.expectedVersion);
      if (touches !== null) return { kind: 'stale', version: kept?.version ?? 0, touches };
      return decideCard(shop, cardId, body);
    },
    present: async (ahead, byHand) => presentSetup(ahead, ahead.cards.get(cardId) as Card, byHand),
  });
}

async function decideCard(shop: Shop, cardId: string, body: PutCard): Promise<SetupDecision> {
  const known = shop.cards.get(cardId);
  const isNew = known === undefined;
  const rejections = judgePlace(shop, cardId, isNew);
  if (rejections.length > 0) return { kind: 'rejected', rejections };
  const stated = statedFrom({ id: cardId, known }, body);
  const beadGramsPer10Cm =
    body.beadGramsPer10Cm === undefined ? (shop.facts.beadOfCard.get(cardId) ?? null) : body.beadGramsPer10Cm;
  const paths = pathsOf(shop, { known, stated, beadGramsPer10Cm });
  if (paths.length === 0) return { kind: 'change', change: null, isNew };
  const calibrated = calibrate(stated);
  if (calibrated.kind === 'rejected') return calibrated;
  const change: SettingsChange = { part: 'card', paths, card: { stated, beadGramsPer10Cm } };
  return { kind: 'change', change, isNew, card: await bringCard(shop, calibrated.card) };
}

function judgePlace(shop: Shop, cardId: string, isNew: boolean): Rejection[] {
  const parsed = parseWith(idField, cardId);
  if (parsed.kind === 'rejected') return parsed.rejections.map((one) => ({ ...one, path: 'id' }));
  if (!isNew || shop.cards.size < CARDS_COUNT_MAX) return [];
  return [{ path: 'id', reason: 'would be one product too many', allowed: `at most ${CARDS_COUNT_MAX}` }];
}

/** A card as it would stand: what the model's part of it is not told stays as it was. */
function statedFrom(
  { id, known }: { id: string; known: CardStated | undefined },
  body: Omit<PutCard, 'expectedVersion' | 'by' | 'beadGramsPer10Cm'>,
): CardStated {
  const unstated = known ?? UNSTATED_ON_CARDS;
  return {
    id,
    name: body.name,
    fill: body.fill,
    atC: body.atC,
    thicknessMm: body.thicknessMm,
    hardenerPct: body.hardenerPct,
    workingMin: body.workingMin,
    sandMin: body.sandMin,
    lowestC: body.lowestC,
    thicknessMaxMm: body.thicknessMaxMm,
    activationKJPerMol: body.activationKJPerMol ?? unstated.activationKJPerMol,
    inductionActivationKJPerMol: unstated.inductionActivationKJPerMol,
    humidityEffectPer10Pct: body.humidityEffectPer10Pct ?? unstated.humidityEffectPer10Pct,
  };
}

function pathsOf(
  shop: Shop,
  {
    known,
    stated,
    beadGramsPer10Cm,
  }: { known: CardStated | undefined; stated: CardStated; beadGramsPer10Cm: number | null },
): string[] {
  if (known === undefined) return [`cards.${stated.id}`];
  const fields = Object.keys(stated) as (keyof CardStated)[];
  const changed: string[] = fields.filter((field) => known[field] !== stated[field]);
  if ((shop.facts.beadOfCard.get(stated.id) ?? null) !== beadGramsPer10Cm) changed.push('beadGramsPer10Cm');
  return changed.map((field) => `cards.${stated.id}.${field}`);
}

type Calibrated =
  | { readonly kind: 'calibrated'; readonly card: Card }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] };

function calibrate(stated: CardStated): Calibrated {
  const calibrated = calibrateCard(stated);
  return calibrated.kind === 'rejected'
    ? calibrated
    : { kind: 'calibrated', card: { ...stated, constants: calibrated.constants } };
}

function presentSetup({ facts }: Shop, card: Card, { cards }: SettingsByHand): CardSetupWire {
  const kept = keptOf(cards, card.id);
  return {
    id: card.id,
    version: kept?.version ?? 0,
    name: card.name,
    fill: card.fill,
    atC: card.atC,
    thicknessMm: card.thicknessMm,
    hardenerPct: card.hardenerPct,
    workingMin: card.workingMin,
    sandMin: card.sandMin,
    lowestC: card.lowestC,
    thicknessMaxMm: card.thicknessMaxMm,
    activationKJPerMol: card.activationKJPerMol,
    humidityEffectPer10Pct: card.humidityEffectPer10Pct,
    beadGramsPer10Cm: facts.beadOfCard.get(card.id) ?? null,
    preview: presentPreview(card),
    changes: presentTouches(kept?.touches ?? []),
  };
}

function presentPreview(card: Card): CardPreviewWire {
  const { filmMm, rows, doublingK, warnings } = seeCard(card);
  return {
    filmMm,
    rows: rows.map(({ isPromised, ...row }) => ({ ...row, promised: isPromised })),
    doublingK,
    warnings: warnings.map(({ row, ...warning }) => ({
      ...warning,
      airTemperatureC: row?.airTemperatureC ?? null,
      testMin: row?.testMin ?? null,
    })),
  };
}
