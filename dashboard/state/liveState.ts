// What the page knows of the shop: the snapshot's content, kept up to date by live messages.
import type { AirMessage, BatchWire, ChangeWire, SnapshotWire } from '../../server/contract/index.ts';

/** The snapshot without its clock reading, which is old the moment it arrives and lives in serverClock. */
export interface LiveState extends Omit<SnapshotWire, 'nowAt'> {
  /** What was closed lately while this device looked on, the newest last. */
  readonly closed?: readonly BatchWire[];
}

export type LiveMessage =
  | { readonly kind: 'snapshot'; readonly snapshot: SnapshotWire }
  | { readonly kind: 'change'; readonly change: ChangeWire }
  | { readonly kind: 'air'; readonly air: AirMessage }
  | { readonly kind: 'resync' };

/** applied: state moved on; repeated: seen before; behind: something was missed, read the snapshot; ignored: not for us. */
export type Outcome = 'applied' | 'repeated' | 'behind' | 'ignored';

export interface Applied {
  readonly state: LiveState | null;
  readonly outcome: Outcome;
}
