// Copies of the whole store, made while the shop goes on: one to be carried away, and those that are kept beside it.
import type { CopyTrouble, Instant } from '../../contract/index.ts';

/** One copy, to be read once. Whoever has it lets it go in any case. */
export interface StoreCopy {
  readonly sizeBytes: number;
  /** The copy's bytes, in order. */
  readonly content: AsyncIterable<Uint8Array>;
  /** Lets go of it, and removes it where it was made to be read only; a second call does nothing. */
  letGo(): void;
}

/** Why there is no copy, in a code and in one English sentence without a path. */
export interface NotCopied {
  readonly kind: 'failed';
  readonly code: CopyTrouble;
  readonly detail: string;
}

export interface StoreCopier {
  /** Null while another copy is still being made or read. Throws PortFailure where nobody can say why none was made. */
  copy(): Promise<StoreCopy | NotCopied | null>;
}

/** A copy that was checked and stands by itself. */
export interface KeptCopy {
  readonly name: string;
  readonly madeAt: Instant;
  readonly sizeBytes: number;
}

export type Keeping = { readonly kind: 'kept'; readonly copy: KeptCopy } | NotCopied;

/** The copies of a store that are kept beside it. */
export interface CopyShelf {
  /** The name of its folder, without its place. */
  readonly folder: string;
  /** Makes a copy under a name of its own, checks it, and only then gives it that name. */
  keep(madeAt: Instant): Promise<Keeping>;
  /** By what their names tell, the newest first; empty while there is no folder. */
  list(): Promise<readonly KeptCopy[]>;
  /** Null when there is none of that name. */
  open(name: string): Promise<StoreCopy | null>;
  /** The ledger of which a kept copy is; null where the file is no store any more. */
  ledgerOf(name: string): Promise<string | null>;
  remove(name: string): Promise<void>;
  /** Ends what is being made; nothing half made is left under a good name. */
  stop(): void;
}
