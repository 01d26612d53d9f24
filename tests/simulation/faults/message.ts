// What a sensor's message says, and what became of it so far.
import type { Quantity } from '../../../server/application/ports/airTable.ts';
import type { Instant } from '../../../server/contract/index.ts';

/** One quantity that a message tells. */
export interface Said {
  readonly sensorId: string;
  readonly quantity: Quantity;
  readonly measurement: number;
  /** Null where the message names no instant: it is that of its arrival. */
  readonly at: Instant | null;
}

export interface Message {
  readonly topic: string;
  readonly payload: string;
  /** Nothing when it cannot be read. */
  readonly says: readonly Said[];
  deliveryCount: number;
  isAcknowledged: boolean;
}
