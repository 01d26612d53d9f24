// What screens are told, told to the ways out as well: they are opened after the shop, which needs the feed to be made.
import type { ChangeWire } from '../contract/index.ts';
import type { LiveFeed } from './ports/live.ts';

/** Null: anything may have changed. */
export type NewsListener = (change: ChangeWire | null) => void;

/** The same feed, and a place to listen at. */
export function shareNews(live: LiveFeed): { live: LiveFeed; listen: (listener: NewsListener) => void } {
  const listeners: NewsListener[] = [];
  const tell = (change: ChangeWire | null): void => {
    for (const listener of listeners) listener(change);
  };
  return {
    live: {
      ...live,
      publishChange(change) {
        live.publishChange(change);
        tell(change);
      },
      publishResync(sequence) {
        live.publishResync(sequence);
        tell(null);
      },
    },
    listen: (listener) => void listeners.push(listener),
  };
}
