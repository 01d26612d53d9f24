// What a card would say of a plain film at plain temperatures, and what about it is unusual: seen before it is kept.
import type { CardWarningCode } from '../contract/index.ts';
import { solveBatch } from '../engine/index.ts';
import type { Card } from './card.ts';

export interface CardRow {
  readonly airTemperatureC: number;
  readonly workingMin: number | null;
  /** Null: not within twelve hours. */
  readonly testMin: number | null;
  /** Whether the tin promises anything at that temperature. */
  readonly isPromised: boolean;
}

export interface CardWarning {
  readonly code: CardWarningCode;
  /** The field that it speaks of. */
  readonly path: string;
  readonly sentence: string;
  readonly row: CardRow | null;
}

export interface CardSeen {
  readonly filmMm: number;
  readonly rows: readonly CardRow[];
  /** So much colder than the card's temperature, and it takes twice as long; null where it stalls there. */
  readonly doublingK: number | null;
  readonly warnings: readonly CardWarning[];
}

/** Cold morning to hot afternoon. */
const SHOWN_C = [5, 10, 15, 20, 25, 30] as const;
/** The film that people have in mind: two millimetres, or as thick as the product may be. */
const FILM_MM = 2;
const REFERENCE_HUMIDITY_PCT = 50;
const COLDER_K = 10;
/** The trade's rule is twice as long for 10 °C colder; half and double of that are worth a second look. */
const DOUBLING_MIN_K = 6;
const DOUBLING_MAX_K = 16;
/** Fillers kick between a fifth and two fifths of their sanding time (common practice, no source). */
const WORKING_SHARE_MIN = 0.15;
const WORKING_SHARE_MAX = 0.5;
/** Outside of this: too little never cures through, too much bleeds through paint (design MODEL §6). */
const HARDENER_MIN_PCT = 1;
const HARDENER_MAX_PCT = 3;
/** Thicker is not put on in one coat (REFERENCES TP-4). */
const COAT_MAX_MM = 6;
/** A wait that is so many times the card's own is worth to be told. */
const SLOW_RATIO = 2;

/** Solves a calibrated card's film at each temperature, everything starting at it. */
export function previewCard(card: Card): CardSeen {
  const filmMm = Math.min(FILM_MM, card.thicknessMaxMm);
  const rows = SHOWN_C.map((airTemperatureC) => rowAt(card, { filmMm, airTemperatureC }));
  const doublingK = doublingOf(card, filmMm);
  return { filmMm, rows, doublingK, warnings: warningsOf(card, { rows, doublingK, filmMm }) };
}

function rowAt(
  card: Card,
  { filmMm, airTemperatureC }: { filmMm: number; airTemperatureC: number },
): CardRow {
  const { gelMin, testMin } = solveBatch(card, card.constants, {
    substrate: 'steel',
    thicknessMm: filmMm,
    hardenerPct: card.hardenerPct,
    airC: [[0, airTemperatureC]],
    humidityPct: [[0, REFERENCE_HUMIDITY_PCT]],
  });
  return { airTemperatureC, workingMin: gelMin, testMin, isPromised: airTemperatureC >= card.lowestC };
}

function doublingOf(card: Card, filmMm: number): number | null {
  const here = rowAt(card, { filmMm, airTemperatureC: card.atC });
  const colder = rowAt(card, { filmMm, airTemperatureC: card.atC - COLDER_K });
  if (here.testMin === null || colder.testMin === null) return null;
  return (COLDER_K * Math.LN2) / Math.log(colder.testMin / here.testMin);
}

function warningsOf(
  card: Card,
  { rows, doublingK, filmMm }: Pick<CardSeen, 'rows' | 'doublingK' | 'filmMm'>,
): CardWarning[] {
  const share = card.workingMin / card.sandMin;
  const { testMin } = rowAt(card, { filmMm, airTemperatureC: card.atC });
  // The warmest promised row that is slow: at that temperature it begins.
  const promised = rows.filter((row) => row.isPromised).toReversed();
  const stalled = promised.find((row) => row.testMin === null);
  const slow = promised.find(
    (row) => row.testMin !== null && testMin !== null && row.testMin >= SLOW_RATIO * testMin,
  );
  return [
    ...warn(doublingK !== null && (doublingK < DOUBLING_MIN_K || doublingK > DOUBLING_MAX_K), {
      code: 'doubling-unusual',
      path: 'activationKJPerMol',
      sentence: `This card takes twice as long for ${(doublingK ?? 0).toFixed(1)} K colder; most take 8 to 12.`,
    }),
    ...warn(share < WORKING_SHARE_MIN || share > WORKING_SHARE_MAX, {
      code: 'working-share-unusual',
      path: 'workingMin',
      sentence: `The working time is ${Math.round(share * 100)} % of the sanding time; most products lie between 20 and 40 %.`,
    }),
    ...warn(card.hardenerPct < HARDENER_MIN_PCT || card.hardenerPct > HARDENER_MAX_PCT, {
      code: 'hardener-unusual',
      path: 'hardenerPct',
      sentence: `${card.hardenerPct} % hardener is outside of 1 to 3 %.`,
    }),
    ...warn(card.thicknessMaxMm > COAT_MAX_MM, {
      code: 'thick-for-one-coat',
      path: 'thicknessMaxMm',
      sentence: `${card.thicknessMaxMm} mm is more than the 6 mm of one coat.`,
    }),
    ...warn(stalled !== undefined, {
      code: 'stalls-in-the-cold',
      path: 'lowestC',
      sentence: `This card would not be sandable within 12 hours at ${stalled?.airTemperatureC} °C.`,
      row: stalled,
    }),
    ...warn(slow !== undefined, {
      code: 'slow-in-the-cold',
      path: 'lowestC',
      sentence: `This card would take ${Math.round(slow?.testMin ?? 0)} min at ${slow?.airTemperatureC} °C.`,
      row: slow,
    }),
  ];
}

function warn(
  isTrue: boolean,
  warning: Omit<CardWarning, 'row'> & { readonly row?: CardRow | undefined },
): CardWarning[] {
  return isTrue ? [{ ...warning, row: warning.row ?? null }] : [];
}
