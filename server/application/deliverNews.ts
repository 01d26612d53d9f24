// What screens are told, told to the ways out as well: they are opened after the shop, which needs the feed to be made.
import type { ChangeWire } from '../contract/index.ts';
import type { LiveFeed } from './ports/live.ts';

/** Null: anything may have changed. */
export type NewsListener = (change: ChangeWire | null) => void;

/** One that was forgotten is news once more, for which nothing is owed. */
const KNOWN_COUNT_MAX = 5000;

/**
 * Makes a judge of changes: whether one says anything new of an alert. Batches are told again with all their alerts each
 * time that their window moves, which is often, and nothing is owed for that.
 */
export function makeAlertNews(): (change: ChangeWire | null) => boolean {
  const known = new Map<string, string>();
  return (change) => {
    if (change === null) return true;
    let isNews = false;
    for (const { id, acknowledgedAt, withdrawnAt, subjects, people } of change.alerts) {
      // What is over when it is heard of first may have been told by the program before this one: its end is owed.
      const said = JSON.stringify([acknowledgedAt, withdrawnAt, subjects, people]);
      isNews ||= known.get(id) !== said;
      known.set(id, said);
    }
    for (const [oldest] of known) {
      if (known.size <= KNOWN_COUNT_MAX) break;
      known.delete(oldest);
    }
    return isNews;
  };
}

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
