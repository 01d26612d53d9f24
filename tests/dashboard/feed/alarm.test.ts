// What reaches the device's alarm: new alerts of its screen, once, silently on arrival, by the device's and the shop's leave.
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { $news, $outsideCount } from '../../../dashboard/state/alerts.ts';
import { changeDevice, $device, emptyMemory } from '../../../dashboard/state/device.ts';
import { $isWallAsked } from '../../../dashboard/state/floor.ts';
import { $live, $path } from '../../../dashboard/state/sources.ts';
import type { AlertWire, SnapshotWire } from '../../../server/contract/index.ts';
import { makeAlert, makeSnapshot } from '../fixtures.ts';

const shakes: number[][] = [];
const rings: string[] = [];

vi.mock('../../../dashboard/feed/sound.ts', () => ({
  soundNow: () => 'ready',
  unlockSound: async () => undefined,
  playRings: (played: readonly string[]) => void rings.push(...played),
}));

beforeEach(async () => {
  vi.resetModules();
  shakes.length = 0;
  rings.length = 0;
  const silent = { addEventListener: () => undefined };
  vi.stubGlobal('document', { ...silent, visibilityState: 'visible' });
  vi.stubGlobal('addEventListener', () => undefined);
  vi.stubGlobal('isSecureContext', false);
  vi.stubGlobal('navigator', { vibrate: (pattern: number[]) => void shakes.push(pattern) });
});

/** Starts an alarm of its own for each test, since it remembers what it has seen. */
async function startWith(alerts: readonly AlertWire[], changes: Partial<SnapshotWire> = {}) {
  const state = await import('../../../dashboard/state/sources.ts');
  const { startAlarm } = await import('../../../dashboard/feed/alarm.ts');
  const { nowAt: _, ...live } = makeSnapshot(changes);
  const tell = (told: readonly AlertWire[]): void => {
    state.$live.value = { ...live, alerts: [...told] };
  };
  state.$path.value = '/bench';
  startAlarm();
  tell(alerts);
  const alertState = await import('../../../dashboard/state/alerts.ts');
  const device = await import('../../../dashboard/state/device.ts');
  const floor = await import('../../../dashboard/state/floor.ts');
  return { tell, ...state, ...alertState, ...device, ...floor };
}

const test = makeAlert({ id: 'a' });
const slowing = makeAlert({ id: 'b', kind: 'slowing', to: ['bench', 'floor'] });
const waiting = makeAlert({ id: 'c', kind: 'waiting', to: ['floor'] });

describe('the alarm', () => {
  it('shows silently what it finds on arrival and rings once for what comes', async () => {
    const page = await startWith([slowing]);
    expect([rings, page.$news.value]).toEqual([[], []]);
    page.tell([slowing, test]);
    page.tell([slowing, test]);
    expect([rings, page.$news.value, shakes.length]).toEqual([['test'], ['a'], 1]);
  });

  it('does not ring for alerts of other screens, nor later on the way to them', async () => {
    const page = await startWith([]);
    page.tell([waiting]);
    page.$path.value = '/floor';
    page.tell([waiting]);
    expect(rings).toEqual([]);
    expect(page.$alerts.value.map(({ id }) => id)).toEqual(['c']);
  });

  it('is silent while muted; with the shop’s sound off it only shakes', async () => {
    const muted = await startWith([]);
    muted.changeDevice({ isMuted: true });
    muted.tell([test]);
    expect([rings, shakes]).toEqual([[], []]);
    vi.resetModules();
    const { shop } = makeSnapshot();
    const silent = await startWith([], { shop: { ...shop, sound: false } });
    silent.tell([test]);
    expect([rings, shakes.length]).toEqual([[], 1]);
  });

  it('rings on a wall for everybody’s calls as well', async () => {
    const page = await startWith([]);
    page.$path.value = '/floor';
    page.$isWallAsked.value = true;
    page.tell([test, waiting]);
    expect(rings).toEqual(['test', 'warning']);
    expect(page.$alerts.value.map(({ id }) => id)).toEqual(['c']);
  });
});

describe('Floor', () => {
  it('counts the alerts that its filters leave out', () => {
    const { nowAt: _, ...live } = makeSnapshot({ alerts: [slowing, waiting] });
    $live.value = live;
    $path.value = '/floor';
    $isWallAsked.value = false;
    $device.value = emptyMemory;
    expect($outsideCount.value).toBe(0);
    changeDevice({ floorBayId: 'bay-1' });
    expect($outsideCount.value).toBe(2);
    expect($news.value).toEqual([]);
  });
});
