// What of the air this device looks at, and the heating it tries.
import { signal } from '@preact/signals';

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

export const $air = signal<AirChoice>({
  bayId: null,
  cardId: null,
  kind: 'week',
  date: null,
  heatFrom: '06:00',
  heatTo: '10:00',
  heatC: 18,
});
