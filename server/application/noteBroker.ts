// Whether sensors can reach the shop: the broker's door says so, health and every screen tell it, one line each way.
import type { Shop } from './shop.ts';

/** Notes that the broker listens, or no longer does. */
export function noteBroker({ troubles, log, live }: Shop, isListening: boolean): void {
  if (isListening === !troubles.has('broker')) return;
  if (isListening) {
    troubles.delete('broker');
    log.info('broker.back', {});
  } else {
    troubles.set('broker', { code: 'gone', sentence: 'the broker has lost its port: it is tried again' });
    log.error('broker.lost', {});
  }
  live.publishResync();
}
