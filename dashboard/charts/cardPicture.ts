// A card's times from a cold morning to a hot afternoon as plain geometry: the film that is still wet below, the film that
// cures above it, and the line on which it can be tested. Between the solved temperatures the times are joined smoothly.
import type { CardPreviewWire } from '../../server/contract/index.ts';

type Row = CardPreviewWire['rows'][number];

export interface CardMark {
  readonly airTemperatureC: number;
  readonly testMin: number;
  readonly xPx: number;
  readonly yPx: number;
}

export interface CardPicture {
  /** From the ground to the working time. */
  readonly wetArea: string;
  /** From the working time to the test. */
  readonly curingArea: string;
  readonly testLine: string;
  readonly marks: readonly CardMark[];
  /** Temperatures at which it cannot be sanded within twelve hours. */
  readonly overs: readonly { readonly airTemperatureC: number; readonly xPx: number }[];
  /** Where the tin's promise begins; null where it holds for all that is shown. */
  readonly promisedFromPx: number | null;
}

/** The picture's box; its plot leaves room for the labels above and below. */
export const CARD_PICTURE = {
  widthPx: 350,
  heightPx: 206,
  leftPx: 24,
  rightPx: 326,
  topPx: 32,
  footPx: 174,
} as const;
const STEPS_COUNT = 8;

/** The picture of a preview's rows; null where there is nothing to draw. */
export function makeCardPicture(rows: readonly Row[], lowestC: number | null): CardPicture | null {
  const [first] = rows;
  const last = rows.at(-1);
  if (first === undefined || last === undefined || first === last) return null;
  const xOf = (valueC: number): number => {
    const share = (valueC - first.airTemperatureC) / (last.airTemperatureC - first.airTemperatureC);
    return CARD_PICTURE.leftPx + share * (CARD_PICTURE.rightPx - CARD_PICTURE.leftPx);
  };
  const solved = rows.flatMap(({ airTemperatureC, testMin, workingMin }) =>
    testMin === null ? [] : [{ airTemperatureC, testMin, workingMin: workingMin ?? testMin }],
  );
  const longestMin = Math.max(1, ...solved.map(({ testMin }) => testMin));
  const yOf = (valueMin: number): number =>
    CARD_PICTURE.footPx - (valueMin / longestMin) * (CARD_PICTURE.footPx - CARD_PICTURE.topPx);
  const place = (points: readonly Point[]): string[] =>
    joinSmoothly(points).map(({ x, y }) => `${xOf(x).toFixed(1)},${yOf(y).toFixed(1)}`);
  const test = place(solved.map(({ airTemperatureC, testMin }) => ({ x: airTemperatureC, y: testMin })));
  const working = place(
    solved.map(({ airTemperatureC, workingMin }) => ({ x: airTemperatureC, y: workingMin })),
  );
  const ground = [...solved.slice(-1), ...solved.slice(0, 1)].map(
    ({ airTemperatureC }) => `${xOf(airTemperatureC).toFixed(1)},${CARD_PICTURE.footPx}`,
  );
  return {
    wetArea: closed([...working, ...ground]),
    curingArea: closed([...test, ...working.toReversed()]),
    testLine: test.length === 0 ? '' : `M${test.join(' L')}`,
    marks: solved.map(({ airTemperatureC, testMin }) => ({
      airTemperatureC,
      testMin,
      xPx: xOf(airTemperatureC),
      yPx: yOf(testMin),
    })),
    overs: rows
      .filter(({ testMin }) => testMin === null)
      .map(({ airTemperatureC }) => ({ airTemperatureC, xPx: xOf(airTemperatureC) })),
    promisedFromPx:
      lowestC === null || lowestC <= first.airTemperatureC
        ? null
        : xOf(Math.min(lowestC, last.airTemperatureC)),
  };
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Times fall nearly as an exponential, so that straight lines between their logarithms make a smooth curve. */
function joinSmoothly(points: readonly Point[]): Point[] {
  return points.flatMap((point, index) => {
    const next = points[index + 1];
    if (next === undefined) return [point];
    return Array.from({ length: STEPS_COUNT }, (_, step) => {
      const fraction = step / STEPS_COUNT;
      return {
        x: point.x + fraction * (next.x - point.x),
        y: point.y * (next.y / point.y) ** fraction,
      };
    });
  });
}

function closed(points: readonly string[]): string {
  return points.length === 0 ? '' : `M${points.join(' L')} Z`;
}
