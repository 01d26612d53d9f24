// Who came and went, as a fold of facts: each kind told by its act, the newest first, the oldest forgotten.
import { describe, expect, it } from 'vitest';
import type { Instant } from '../../server/contract/index.ts';
import { EMPTY_ACCESS_LOG, foldAccess } from '../../server/domain/accessLog.ts';
import type { Fact } from '../../server/domain/facts.ts';

function factOf(type: string, body: Record<string, unknown>, at = 1): Fact {
  return {
    type,
    body,
    at: at as Instant,
    version: 1,
    by: null,
    batchId: null,
    bayId: null,
  } as unknown as Fact;
}

describe('foldAccess', () => {
  it.each<[string, Record<string, unknown>, string, string | null]>([
    ['DevicePaired', { deviceId: 'd', name: 'Phone', right: 'work' }, 'devicePaired', 'Phone'],
    ['DeviceRenamed', { deviceId: 'd', name: 'Wall' }, 'deviceRenamed', 'Wall'],
    ['DeviceEnded', { deviceId: 'd', name: 'Wall' }, 'deviceEnded', 'Wall'],
    ['SignedIn', {}, 'signedIn', null],
    ['SessionEnded', {}, 'sessionEnded', null],
    ['SignInRefused', { door: 'passphrase', name: null }, 'refusedPassphrase', null],
    ['SignInRefused', { door: 'pairing', name: null }, 'refusedPairing', null],
    ['SignInRefused', { door: 'sensor', name: 'north' }, 'refusedSensor', 'north'],
    ['PassphraseChanged', {}, 'passphraseChanged', null],
    ['SensorUserChanged', { name: 'north', change: 'made' }, 'userMade', 'north'],
    ['SensorUserChanged', { name: 'north', change: 'password' }, 'userPassword', 'north'],
    ['SensorUserChanged', { name: 'north', change: 'topics' }, 'userTopics', 'north'],
    ['SensorUserChanged', { name: 'north', change: 'ended' }, 'userEnded', 'north'],
  ])('tells %s %o as %s', (type, body, act, name) => {
    expect(foldAccess(EMPTY_ACCESS_LOG, factOf(type, body)).entries).toEqual([{ at: 1, act, name }]);
  });

  it('stays the same object for a fact of anything else', () => {
    expect(foldAccess(EMPTY_ACCESS_LOG, factOf('SensorSeen', { sensorId: 's' }))).toBe(EMPTY_ACCESS_LOG);
  });

  it('keeps the newest fifty, newest first', () => {
    let log = EMPTY_ACCESS_LOG;
    for (let at = 1; at <= 60; at += 1) log = foldAccess(log, factOf('SignedIn', {}, at));
    expect(log.entries).toHaveLength(50);
    expect([log.entries[0]?.at, log.entries.at(-1)?.at]).toEqual([60, 11]);
  });
});
