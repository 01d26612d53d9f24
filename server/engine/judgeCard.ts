// Whether a product card can be used at all; whether constants fit it is found by calibrating it.
import type { CardStatement } from './cardStatement.ts';
import { FILLS } from './constants.ts';
import { type Bounds, judgeRange, judgeWord, type Rejection } from './judgeRange.ts';

/**
 * What is wrong with a card, field by field.
 * @param card  a card of the right shape; further properties are ignored
 * @returns rejections, none when every field is within its bounds
 * @source design MODEL §6; bounds beyond it chosen
 */
export function judgeCard(card: CardStatement): Rejection[] {
  return [
    ...judgeWord('fill', card.fill, Object.keys(FILLS)),
    ...CARD_FIELDS.flatMap((field) => judgeRange(field, card[field], CARD_BOUNDS[field])),
  ];
}

type CardField = Exclude<keyof CardStatement, 'fill'>;

const CARD_BOUNDS: Readonly<Record<CardField, Bounds>> = {
  atC: { min: -10, max: 45, unit: '°C' },
  thicknessMm: { min: 0.1, max: 12, unit: 'mm' },
  hardenerPct: { min: 0.5, max: 5, unit: '%' },
  workingMin: { min: 0.2, max: 240, unit: 'min' },
  sandMin: { min: 0.5, max: 600, unit: 'min' },
  activationKJPerMol: { min: 10, max: 150, unit: 'kJ/mol' },
  inductionActivationKJPerMol: { min: 10, max: 150, unit: 'kJ/mol' },
  humidityEffectPer10Pct: { min: -0.5, max: 0.5, unit: 'per 10 %RH' },
};

const CARD_FIELDS = Object.keys(CARD_BOUNDS) as CardField[];
