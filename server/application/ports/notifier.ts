// The way out to programs and phones: one message, once; whether it got through, and if not, why.
import type { AlertWire, DeliveryMessage, DeliveryTrouble, Instant, Language } from '../../contract/index.ts';

/** Where a message goes. */
export type Target =
  | { readonly kind: 'webhook'; readonly url: string; readonly secret: string }
  | {
      readonly kind: 'push';
      readonly endpoint: string;
      readonly p256dh: string;
      readonly auth: string;
      readonly language: Language;
    };

export interface OutMessage {
  /** The same each time it is sent. */
  readonly id: string;
  readonly message: DeliveryMessage | 'trial';
  /** As it stands now; null in a trial. */
  readonly alert: AlertWire | null;
  /** When it became so, in the shop. */
  readonly at: Instant;
  readonly shopName: string;
}

export type SendOutcome =
  | { readonly kind: 'delivered' }
  /** May be tried again, not sooner than the receiver asks. */
  | { readonly kind: 'failed'; readonly trouble: DeliveryTrouble; readonly waitMs: number | null }
  /** Nobody is there any more. */
  | { readonly kind: 'gone'; readonly trouble: DeliveryTrouble };

export interface Notifier {
  /** Sends once; ends within a time of its own and never throws. */
  send(target: Target, message: OutMessage): Promise<SendOutcome>;
  /** Lets go of what is under way. */
  close(): void;
}
