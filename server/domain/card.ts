// A card: what the tin or the shop says of a product, with the constants found from it.
import type { CardConstants, CardStatement } from '../engine/index.ts';

/** What a card states; its scatter and activation energies are the model's unless the shop says otherwise. */
export interface CardStated extends CardStatement {
  readonly id: string;
  readonly name: string;
  /** Below this the card promises nothing. */
  readonly lowestC: number;
  /** Above this a film cracks or never cures through; a warning, not a bar. */
  readonly thicknessMaxMm: number;
}

/** A card that has been calibrated. */
export interface Card extends CardStated {
  readonly constants: CardConstants;
}
