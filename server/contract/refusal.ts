// Why the domain says no: a closed list of codes; only the HTTP door knows which status each one gets.

export const REFUSAL_CODES = [
  'stage-wet',
  'stage-not-curing',
  'stage-not-sanding',
  'batch-closed',
  'already-spread',
  'same-bay',
  'before-mixing',
  'in-the-future',
  'too-long-ago',
  'out-of-order',
  'nothing-to-undo',
  'undo-not-latest',
  'undo-too-late',
  'version-stale',
  'unknown-batch',
  'unknown-bay',
  'unknown-card',
  'unknown-lamp',
  'unknown-distance',
  'unknown-alert',
] as const;

export type RefusalCode = (typeof REFUSAL_CODES)[number];

export interface Refusal {
  readonly code: RefusalCode;
  /** One plain sentence for the person who asked. */
  readonly sentence: string;
  /** The field of the request that it speaks of, where it is one. */
  readonly path?: string;
}
