// What of the air this device looks at, and the heating it tries.
import { signal } from '@preact/signals';
import type { CostWire } from '../../server/contract/index.ts';

export interface AirChoice {
  /** Null: the shop's first bay, its first product. */
  readonly bayId: string | null;
  readonly cardId: string | null;
  readonly kind: 'day' | 'week';
  /** A day inside what is looked at; null for today and this week. */
  readonly date: string | null;
  readonly heatFrom: string;
  readonly heatTo: string;
  readonly heatC: number;
}

/** What is asked of the server. */
export interface CostRequest {
  readonly bayId: string;
  readonly fromAt: number;
  readonly untilAt: number;
  readonly cardId: string | null;
  readonly heatFrom: string;
  readonly heatTo: string;
  readonly heatC: number;
}

/** What came back. */
export type CostRead =
  | { readonly kind: 'read'; readonly cost: CostWire }
  | { readonly kind: 'unread'; readonly why: 'network' | 'server' };

export const $air = signal<AirChoice>({
  bayId: null,
  cardId: null,
  kind: 'week',
  date: null,
  heatFrom: '06:00',
  heatTo: '10:00',
  heatC: 18,
});
