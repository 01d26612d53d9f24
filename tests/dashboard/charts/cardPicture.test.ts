// The picture of a card's times: places by temperature and minutes, gaps where it stalls, and where the promise begins.
import { describe, expect, it } from 'vitest';
import { CARD_PICTURE, makeCardPicture } from '../../../dashboard/charts/cardPicture.ts';

const row = (airTemperatureC: number, testMin: number | null) => ({
  airTemperatureC,
  testMin,
  workingMin: testMin === null ? null : testMin / 4,
  promised: airTemperatureC >= 10,
});

describe('the picture of a card', () => {
  it('puts the longest time at the top, each other one in proportion to the ground', () => {
    const picture = makeCardPicture([row(10, 40), row(20, 20), row(30, 10)], 10);
    const heights = picture?.marks.map(({ yPx }) => CARD_PICTURE.footPx - yPx) ?? [];
    const whole = CARD_PICTURE.footPx - CARD_PICTURE.topPx;
    expect(heights).toEqual([whole, whole / 2, whole / 4]);
    expect(picture?.marks.map(({ xPx }) => xPx)).toEqual([
      CARD_PICTURE.leftPx,
      (CARD_PICTURE.leftPx + CARD_PICTURE.rightPx) / 2,
      CARD_PICTURE.rightPx,
    ]);
  });

  it('leaves out where it stalls, and says so there', () => {
    const picture = makeCardPicture([row(5, null), row(15, 30), row(25, 12)], 5);
    expect(picture?.overs).toEqual([{ airTemperatureC: 5, xPx: CARD_PICTURE.leftPx }]);
    expect(picture?.marks).toHaveLength(2);
    expect(picture?.testLine).not.toContain(`${CARD_PICTURE.leftPx.toFixed(1)},`);
  });

  it('joins the times by a line that never turns upward where they only fall', () => {
    const picture = makeCardPicture([row(5, 90), row(15, 30), row(25, 12)], 5);
    const heights = [...(picture?.testLine ?? '').matchAll(/,([\d.]+)/g)].map(([, y]) => Number(y));
    expect(heights.length).toBeGreaterThan(10);
    expect(heights).toEqual(heights.toSorted((a, b) => a - b));
  });

  it('marks where the promise of the tin begins, and nothing where it holds for all', () => {
    const rows = [row(10, 40), row(30, 10)];
    expect(makeCardPicture(rows, 20)?.promisedFromPx).toBe((CARD_PICTURE.leftPx + CARD_PICTURE.rightPx) / 2);
    expect(makeCardPicture(rows, 10)?.promisedFromPx).toBeNull();
    expect(makeCardPicture(rows, null)?.promisedFromPx).toBeNull();
    expect(makeCardPicture(rows, 99)?.promisedFromPx).toBe(CARD_PICTURE.rightPx);
  });

  it('is none of fewer than two temperatures, and empty where nothing cures', () => {
    expect(makeCardPicture([row(10, 40)], 10)).toBeNull();
    expect(makeCardPicture([row(5, null), row(10, null)], 5)).toMatchObject({ testLine: '', wetArea: '' });
  });
});
