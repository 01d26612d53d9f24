// What the config says of a shop, defaults filled in.
import type { PersonWire } from '../../contract/index.ts';
import type { AlertSettings } from '../../domain/alertRules.ts';
import type { Lamp } from '../../domain/lamp.ts';

export interface Bay {
  readonly id: string;
  readonly name: string;
  readonly kind: 'bay' | 'booth' | 'yard';
  readonly isAirMoving: boolean;
}

export interface ShopFacts {
  readonly name: string;
  readonly timeZone: string;
  readonly isSimulated: boolean;
  readonly bays: readonly Bay[];
  /** Which bay each known sensor stands in. */
  readonly bayOfSensor: ReadonlyMap<string, string>;
  readonly lamps: readonly Lamp[];
  readonly people: readonly PersonWire[];
  readonly panels: readonly string[];
  readonly testProbability: number;
  /** Whether windows start from what closed batches taught, or from the cards alone. */
  readonly isLearning: boolean;
  readonly alerts: AlertSettings;
}
