// Mix on a panel that was sanded a moment ago is mostly its next layer: one tap fills in what is known of it.
import { formatThickness } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { $closedSlips, $place, $slips } from '../../state/computed.ts';
import { layerBelow } from '../../state/justClosed.ts';
import { nextLayerOf } from '../../state/mixDraft.ts';
import { $live, $words } from '../../state/sources.ts';
import type { MixPartProps } from './mixPart.ts';

/** The offer; nothing where no layer is known below, or one is filled in already. */
export function LayerOffer({ draft, onChange }: Pick<MixPartProps, 'draft' | 'onChange'>) {
  const { mix, slip } = $words.value;
  const below = layerBelow(draft.panel, [...$closedSlips.value, ...$slips.value]);
  if (below === null || (numberOf(draft.underlay) ?? 0) > 0) return null;
  const order = below.repairOrder === null ? [] : [slip.order(below.repairOrder)];
  const text = [formatThickness(below.thicknessMm, $place.value), ...order].join(', ');
  return (
    <button
      type="button"
      class="second layer-offer"
      onClick={() => onChange(nextLayerOf(below, $live.value?.cards ?? []))}
    >
      {mix.layerOffer(text)}
    </button>
  );
}
