// The copies that are kept beside the store, as Setup shows them.
import { signal } from '@preact/signals';
import type { CopiesWire } from '../../server/contract/index.ts';
import type { SetupRead } from './setup.ts';

/** A copy asked for by hand, from the tap to its outcome. */
export type CopyAsk =
  | { readonly kind: 'none' | 'asked' | 'busy' | 'noAnswer' }
  | { readonly kind: 'kept'; readonly madeAt: string };

export const $keptCopies = signal<SetupRead<CopiesWire>>('loading');
export const $copyAsk = signal<CopyAsk>({ kind: 'none' });
