// What a page lets a device do: nothing is held back before the server has said, then just what its right holds.
import { afterEach, describe, expect, it } from 'vitest';
import { $access, $isShut, $mayManage, $mayWork } from '../../../dashboard/state/access.ts';
import { holdsRight } from '../../../server/contract/accessTerms.ts';
import type { AccessWire, Right } from '../../../server/contract/index.ts';

function accessWith(right: Right | null): AccessWire {
  return { kind: 'signIn', right, deviceName: null, signedIn: false, tls: false, passphrase: true };
}

afterEach(() => {
  $access.value = null;
});

describe('what this device may', () => {
  it.each<[Right | null, { isShut: boolean; mayWork: boolean; mayManage: boolean }]>([
    [null, { isShut: true, mayWork: false, mayManage: false }],
    ['view', { isShut: false, mayWork: false, mayManage: false }],
    ['work', { isShut: false, mayWork: true, mayManage: false }],
    ['manage', { isShut: false, mayWork: true, mayManage: true }],
  ])('with the right %s', (right, expected) => {
    $access.value = accessWith(right);
    expect({ isShut: $isShut.value, mayWork: $mayWork.value, mayManage: $mayManage.value }).toEqual(expected);
  });

  it('is everything until the server has said', () => {
    expect([$isShut.value, $mayWork.value, $mayManage.value]).toEqual([false, true, true]);
  });

  it('is held by rights in order', () => {
    expect(holdsRight('work', 'view')).toBe(true);
    expect(holdsRight('view', 'work')).toBe(false);
    expect(holdsRight(null, 'view')).toBe(false);
  });
});
