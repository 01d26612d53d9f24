// The settings of a shop as they are in force: what the config says, defaults filled in, and what was changed by hand.
import type { Lamp } from '../../domain/lamp.ts';
import type { SettingsInForce } from '../../domain/settingsInForce.ts';

export interface ShopFacts extends SettingsInForce {
  readonly isSimulated: boolean;
  readonly lamps: readonly Lamp[];
  readonly panels: readonly string[];
  /** Whether windows start from what closed batches taught, or from the cards alone. */
  readonly isLearning: boolean;
}
