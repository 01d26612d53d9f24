// Which answers keep a tap: those for want of a right, which may come back; all other refusals are final.
import { describe, expect, it } from 'vitest';
import { type Answer, isForWantOfRight } from '../../../dashboard/feed/http.ts';

const refused = (status: number, code?: string): Answer => ({
  kind: 'refused',
  status,
  problem: code === undefined ? {} : { code },
});

describe('isForWantOfRight', () => {
  it.each<[string, Answer, boolean]>([
    ['a device that is not paired', refused(401, 'not-paired'), true],
    ['a 401 without a word', refused(401), true],
    ['a right that is too small', refused(403, 'no-right'), true],
    ['an address that is not ours', refused(403, 'not-from-here'), false],
    ['an act that the stage does not allow', refused(409, 'stage-wet'), false],
    ['a stored act', { kind: 'answered', body: {} }, false],
    ['no answer', { kind: 'unanswered', why: 'network' }, false],
  ])('knows %s', (_what, answer, expected) => {
    expect(isForWantOfRight(answer)).toBe(expected);
  });
});
