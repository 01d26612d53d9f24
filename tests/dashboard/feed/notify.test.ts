// What a browser allows of notifications, and that each goes when its alert does.
import { afterEach, describe, expect, it, vi } from 'vitest';
import { closeNotices, notifyAbility, showNotice } from '../../../dashboard/feed/notify.ts';

afterEach(() => vi.unstubAllGlobals());

describe('notifications', () => {
  it.each([
    [{ isSecure: true, permission: 'granted' }, 'on'],
    [{ isSecure: true, permission: 'default' }, 'ask'],
    [{ isSecure: true, permission: 'denied' }, 'denied'],
    [{ isSecure: true, permission: null }, 'unsupported'],
    // Chromium's own answer over plain HTTP is "denied", which nobody has said.
    [{ isSecure: false, permission: 'denied' }, 'insecure'],
    [{ isSecure: false, permission: 'granted' }, 'insecure'],
    [{ isSecure: false, permission: null }, 'insecure'],
  ] as const)('with %o are %s', (ground, ability) => {
    expect(notifyAbility(ground)).toBe(ability);
  });
});

interface Made {
  readonly text: string;
  readonly tag: string;
  isClosed: boolean;
}

/** A browser whose page may show notifications by itself, or only through its worker, as phones have it. */
function stubBrowser(way: 'page' | 'worker'): Made[] {
  const made: Made[] = [];
  const make = (text: string, { tag }: { tag: string }) => {
    const one = { text, tag, isClosed: false };
    made.push(one);
    return { tag, close: () => void (one.isClosed = true), addEventListener: () => undefined };
  };
  const worker: unknown[] = [];
  const registration = {
    showNotification: async (text: string, options: { tag: string }) => void worker.push(make(text, options)),
    getNotifications: async () => worker,
  };
  vi.stubGlobal('Notification', function Notification(text: string, options: { tag: string }) {
    if (way === 'worker') throw new TypeError('Illegal constructor');
    return make(text, options);
  });
  const serviceWorker = { getRegistration: async () => (way === 'worker' ? registration : undefined) };
  vi.stubGlobal('navigator', { serviceWorker });
  return made;
}

describe.each(['page', 'worker'] as const)('a notification of the %s', (way) => {
  it('carries the alert’s identity and is closed with it, not before', async () => {
    const made = stubBrowser(way);
    const common = { language: 'en', isCall: true };
    await showNotice({ ...common, id: 'a', text: 'Test Roof' });
    await showNotice({ ...common, id: 'b', text: 'Test Bonnet' });
    await closeNotices(() => false);
    expect(made).toEqual([
      { text: 'Test Roof', tag: 'a', isClosed: false },
      { text: 'Test Bonnet', tag: 'b', isClosed: false },
    ]);
    await closeNotices((id) => id === 'a');
    expect(made.map(({ isClosed }) => isClosed)).toEqual([true, false]);
    await closeNotices(() => true);
    expect(made.map(({ isClosed }) => isClosed)).toEqual([true, true]);
  });
});
