// A copy of the whole store, made while the shop goes on: for a backup.

/** One copy, to be read once. Whoever has it lets it go in any case. */
export interface StoreCopy {
  readonly sizeBytes: number;
  /** The copy's bytes, in order. */
  readonly content: AsyncIterable<Uint8Array>;
  /** Removes the copy; a second call does nothing. */
  letGo(): void;
}

export interface StoreCopier {
  /** Null while another copy is still being made or read. Throws PortFailure when none can be made. */
  copy(): Promise<StoreCopy | null>;
}
