// What is chosen in Mix before Start: last used first, defaults for the rest, and the body it becomes.
import type { BatchWire, CardWire, StartBatchWire } from '../../server/contract/index.ts';
import { LIMITS } from '../../server/contract/limits.ts';
import { numberOf } from '../format/typedNumber.ts';

/** The thicknesses offered as chips [mm]; the first is a skim. */
export const THICKNESS_CHOICES_MM = [0.5, 1, 2, 4, 6] as const;

export type Substrate = StartBatchWire['substrate'];

/** Every field as the form holds it; numbers that may be half typed are texts, and metric whatever the screen shows. */
export interface MixDraft {
  readonly cardId: string;
  readonly panel: string;
  readonly thicknessMm: number;
  readonly bayId: string;
  readonly substrate: Substrate;
  readonly hardener: string;
  readonly weighed: boolean;
  readonly repairOrder: string;
  readonly by: string;
  readonly underlay: string;
  readonly mixedAgoMin: number;
  readonly isColdCar: boolean;
  readonly rolledInAgo: string;
  readonly outdoor: string;
}

/** What a device remembers of its last mix. */
export type LastMix = Pick<
  MixDraft,
  'cardId' | 'panel' | 'thicknessMm' | 'bayId' | 'substrate' | 'hardener' | 'weighed' | 'repairOrder'
>;

export interface FieldMistake {
  readonly path: string;
  readonly kind: 'missing' | 'notNumber';
}

export interface MixChoices {
  readonly cards: readonly CardWire[];
  readonly bays: readonly { readonly id: string }[];
  readonly person: string | null;
  readonly last: LastMix | null;
}

const DEFAULT_THICKNESS_MM = 2;
const SKIM_MM = 0.5;
const UNDERLAY_MAX_MM = LIMITS.underlayMm.max;
const MS_PER_MIN = 60_000;

/** The form as it opens: what was used last where the shop still has it, else the shop's first. */
export function makeMixDraft(choices: MixChoices, preset: Partial<MixDraft> = {}): MixDraft {
  const { last } = choices;
  const card = choices.cards.find(({ id }) => id === (preset.cardId ?? last?.cardId)) ?? choices.cards[0];
  const bay = choices.bays.find(({ id }) => id === (preset.bayId ?? last?.bayId)) ?? choices.bays[0];
  const isLastCard = card?.id === last?.cardId;
  return {
    cardId: card?.id ?? '',
    panel: last?.panel ?? '',
    thicknessMm: last?.thicknessMm ?? DEFAULT_THICKNESS_MM,
    bayId: bay?.id ?? '',
    substrate: last?.substrate ?? 'steel',
    hardener: isLastCard && last !== null ? last.hardener : String(card?.hardenerPct ?? ''),
    weighed: last?.weighed ?? false,
    repairOrder: last?.repairOrder ?? '',
    by: choices.person ?? '',
    underlay: '0',
    mixedAgoMin: 0,
    isColdCar: false,
    rolledInAgo: '10',
    outdoor: '0',
    ...preset,
    ...(preset.cardId === undefined ? {} : { cardId: card?.id ?? '' }),
  };
}

/** The draft with another product; the hardener follows the card unless it was changed by hand. */
export function chooseCard(draft: MixDraft, card: CardWire, cards: readonly CardWire[]): MixDraft {
  const before = cards.find(({ id }) => id === draft.cardId);
  const wasCards = before === undefined || draft.hardener === String(before.hardenerPct);
  return { ...draft, cardId: card.id, hardener: wasCards ? String(card.hardenerPct) : draft.hardener };
}

/** The body of POST /batches, of a draft without mistakes. */
export function startBodyOf(draft: MixDraft, nowAt: number): StartBatchWire {
  const isoBefore = (agoMin: number): string => new Date(nowAt - agoMin * MS_PER_MIN).toISOString();
  const rolledInAgoMin = numberOf(draft.rolledInAgo);
  return {
    cardId: draft.cardId,
    panel: draft.panel.trim(),
    bayId: draft.bayId,
    thicknessMm: draft.thicknessMm,
    substrate: draft.substrate,
    weighed: draft.weighed,
    mixedAt: isoBefore(draft.mixedAgoMin),
    ...(draft.repairOrder.trim() === '' ? {} : { repairOrder: draft.repairOrder.trim() }),
    ...(draft.by.trim() === '' ? {} : { by: draft.by.trim() }),
    ...present('hardenerPct', numberOf(draft.hardener)),
    ...present('underlayMm', numberOf(draft.underlay)),
    ...(draft.isColdCar && rolledInAgoMin !== null ? { rolledInAt: isoBefore(rolledInAgoMin) } : {}),
    ...(draft.isColdCar ? present('outdoorTemperatureC', numberOf(draft.outdoor)) : {}),
  };
}

/** The next layer on a batch: its panel and bay again, itself and what it lies on underneath, the shop's putty as a skim. */
export function nextLayerOf(batch: BatchWire, cards: readonly CardWire[]): Partial<MixDraft> {
  const putty = cards.find(({ thicknessMm }) => thicknessMm <= SKIM_MM);
  return {
    panel: batch.panel,
    bayId: batch.bayId,
    substrate: batch.substrate,
    repairOrder: batch.repairOrder ?? '',
    underlay: String(Number(Math.min(batch.underlayMm + batch.thicknessMm, UNDERLAY_MAX_MM).toFixed(3))),
    thicknessMm: SKIM_MM,
    ...(putty === undefined ? {} : { cardId: putty.id, hardener: String(putty.hardenerPct) }),
  };
}

/** What can be told without the server: a panel not chosen, a number that is none. Bounds are the server's to judge. */
export function mistakesOf(draft: MixDraft): FieldMistake[] {
  const numbers: [string, string][] = [
    ['hardenerPct', draft.hardener],
    ['underlayMm', draft.underlay],
    ...(draft.isColdCar
      ? ([
          ['rolledInAt', draft.rolledInAgo],
          ['outdoorTemperatureC', draft.outdoor],
        ] satisfies [string, string][])
      : []),
  ];
  const unread = numbers
    .filter(([, text]) => numberOf(text) === null)
    .map(([path]) => ({ path, kind: 'notNumber' as const }));
  return draft.panel.trim() === '' ? [{ path: 'panel', kind: 'missing' }, ...unread] : unread;
}

/** What to remember for the next mix. */
export function lastMixOf(draft: MixDraft): LastMix {
  const { cardId, panel, thicknessMm, bayId, substrate, hardener, weighed, repairOrder } = draft;
  return { cardId, panel, thicknessMm, bayId, substrate, hardener, weighed, repairOrder };
}

function present<Key extends string>(key: Key, value: number | null): Partial<Record<Key, number>> {
  return value === null ? {} : ({ [key]: value } as Record<Key, number>);
}
