// The source signals: what the feed and people's taps write. Everything else is computed from these.
import { signal } from '@preact/signals';
import type { Words } from '../format/words.en.ts';
import { $englishWords } from './englishWords.ts';
import type { Kept } from './kept.ts';
import type { LiveState } from './liveState.ts';
import type { MixDraft } from './mixDraft.ts';
import type { PlainTimer } from './timers.ts';

export type Connection = 'connecting' | 'live' | 'lost';

/** A field the server turned down, with what it would take. */
export interface FieldError {
  readonly path: string;
  readonly reason: string;
  readonly allowed: string;
}

/** What went wrong with an act, for the place where it was asked for. */
export interface Trouble {
  readonly text: string;
  readonly errors: readonly FieldError[];
}

export interface Toast {
  readonly text: string;
  /** What undo would take back; null where nothing can be. */
  readonly undo: { readonly batchId: string; readonly factSequence: number; readonly panel: string } | null;
  /** The next layer of what was sanded just now. */
  readonly layer?: Partial<MixDraft>;
  /** What undo would put back of a plain timer: how it was before, null where it was not there. */
  readonly undoTimer?: { readonly id: string; readonly before: PlainTimer | null };
}

export type OpenDialog =
  | { readonly kind: 'mix'; readonly preset: Partial<MixDraft>; readonly variant: 'full' | 'again' | 'layer' }
  | { readonly kind: 'more'; readonly batchId: string }
  | { readonly kind: 'timer' }
  | { readonly kind: 'device' }
  | { readonly kind: 'help' };

/** What this browser lets the alarm do. */
export interface AlarmAbilities {
  /** locked: until somebody taps; none: it cannot make any. */
  readonly sound: 'ready' | 'locked' | 'none';
  readonly notifications: NotifyAbility;
}

/** insecure: not over plain HTTP; unsupported: this browser has none. */
export type NotifyAbility = 'on' | 'ask' | 'denied' | 'insecure' | 'unsupported';

export const $live = signal<LiveState | null>(null);
export const $nowAt = signal(0);
export const $connection = signal<Connection>('connecting');
/** Why the newest snapshot could not be had: no way to the server, or a server that cannot read its own store. */
export const $snapshotTrouble = signal<'network' | 'server' | null>(null);
export const $kept = signal<readonly Kept[]>([]);
/** Keys of entries whose request is under way. */
export const $sending = signal<ReadonlySet<string>>(new Set());
/** Troubles by place: a batch's id, 'mix', or 'page'. */
export const $troubles = signal<Readonly<Record<string, Trouble>>>({});
export const $toast = signal<Toast | null>(null);
export const $dialog = signal<OpenDialog | null>(null);
export const $path = signal('/bench');
export const $words = signal<Words>($englishWords.peek());
/** Plain timers of this device. */
export const $timers = signal<readonly PlainTimer[]>([]);
/** Whether the browser keeps the screen on while something counts; unsaid before it was asked. */
export const $awake = signal<'unsaid' | 'held' | 'insecure' | 'refused'>('unsaid');
export const $alarm = signal<AlarmAbilities>({ sound: 'locked', notifications: 'insecure' });

/** Sets or clears the trouble of a place. */
export function setTrouble(place: string, trouble: Trouble | null): void {
  const { [place]: _, ...others } = $troubles.peek();
  $troubles.value = trouble === null ? others : { ...others, [place]: trouble };
}
