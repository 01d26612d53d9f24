// Programs elsewhere that are told of alerts: what a person's form really changes of them.
import type { AlertKind, Instant } from '../contract/index.ts';
import type { WebhookSetting } from './settingsChange.ts';

/** What was asked for; what is left out stays as it is. */
export interface WebhookAsked {
  readonly id: string;
  readonly name?: string | undefined;
  readonly url?: string | undefined;
  readonly events?: readonly AlertKind[] | null | undefined;
  readonly removed?: boolean | undefined;
}

export interface WebhookDiff {
  /** Whole entries that differ from those held. */
  readonly changed: readonly WebhookSetting[];
  /** Of new ones: where in the list a field is missing. */
  readonly missing: readonly { readonly index: number; readonly field: 'name' | 'url' }[];
}

/** What has to change; one that comes back, or moves to another address, is told only of what is raised from now on. */
export function diffWebhooks(
  held: readonly WebhookSetting[],
  asked: readonly WebhookAsked[],
  nowAt: Instant,
): WebhookDiff {
  const entries = asked.map((one, index) => settle(held, { one, index, nowAt }));
  return {
    changed: entries.flatMap(({ changed }) => changed),
    missing: entries.flatMap(({ missing }) => missing),
  };
}

/** Those that are told. */
export function activeWebhooks(held: readonly WebhookSetting[]): WebhookSetting[] {
  return held.filter(({ isRemoved }) => !isRemoved);
}

function settle(
  held: readonly WebhookSetting[],
  { one, index, nowAt }: { readonly one: WebhookAsked; readonly index: number; readonly nowAt: Instant },
): WebhookDiff {
  const { id, name, url, events, removed = false } = one;
  const known = held.find((webhook) => webhook.id === id);
  if (known === undefined || known.isRemoved) {
    // Nothing is to be taken away that is not there.
    if (removed) return { changed: [], missing: [] };
    const missing = (['name', 'url'] as const).filter((field) => one[field] === undefined);
    if (name === undefined || url === undefined)
      return { changed: [], missing: missing.map((field) => ({ index, field })) };
    const fresh = { id, name, url, events: events ?? null, sinceAt: nowAt, isRemoved: false };
    return { changed: [fresh], missing: [] };
  }
  const wanted: WebhookSetting = {
    ...known,
    name: name ?? known.name,
    url: url ?? known.url,
    events: events === undefined ? known.events : events,
    isRemoved: removed,
    sinceAt: url === undefined || url === known.url ? known.sinceAt : nowAt,
  };
  return { changed: isSame(known, wanted) ? [] : [wanted], missing: [] };
}

function isSame(left: WebhookSetting, right: WebhookSetting): boolean {
  return (
    left.name === right.name &&
    left.url === right.url &&
    left.isRemoved === right.isRemoved &&
    String(left.events) === String(right.events)
  );
}
