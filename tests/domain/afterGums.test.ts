// After "gums" the window lies ahead of it, even where the model had long given the film up as done.
import { describe, expect, it } from 'vitest';
import { afterGums } from '../../server/domain/afterGums.ts';
import { estimateOf, minute, stateOf } from '../support/domainFixtures.ts';

const gummedAt = (atMin: number) =>
  stateOf({ checks: [{ at: minute(atMin), outcome: 'gums' as const, firstTry: null, by: null }] });
const times = (list: readonly (number | null)[]) => {
  const [p10At = null, p50At = null, testFromAt = null, p90At = null] = list.map((atMin) =>
    atMin === null ? null : minute(atMin),
  );
  return { ...estimateOf(), p10At, p50At, testFromAt, p90At };
};
const minutesOf = ({ p10At, p50At, testFromAt, p90At }: ReturnType<typeof times>) =>
  [p10At, p50At, testFromAt, p90At].map((at) => (at === null ? null : (at - minute(0)) / 60_000));

describe('a window after gums', () => {
  it.each([
    ['long behind the window lies all ahead of the check', 60, [15, 19, 22, 26], [62.25, 65.4, 69, 73.5]],
    ['at a young film rests three minutes', 12, [15, 19, 22, 26], [15, 19, 22, 26]],
    [
      'in the middle of the window moves only what lies before',
      20,
      [19, 20.5, 25, 30],
      [20.75, 21.8, 25, 30],
    ],
    ['of a film that never cures stays never', 60, [null, null, null, null], [null, null, null, null]],
  ])('%s', (_what, gumsMin, held, expected) => {
    expect(minutesOf(afterGums(times(held), gummedAt(gumsMin)))).toEqual(expected);
  });

  it('is left alone while nothing gummed', () => {
    expect(afterGums(times([15, 19, 22, 26]), stateOf())).toEqual(times([15, 19, 22, 26]));
  });
});
