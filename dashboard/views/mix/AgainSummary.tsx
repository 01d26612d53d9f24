// The last mix once more, as a few lines: nothing to choose, only to start.
import { formatThickness } from '../../format/numbers.ts';
import { $place, namingOf } from '../../state/computed.ts';
import type { MixDraft } from '../../state/mixDraft.ts';
import { $words } from '../../state/sources.ts';

export interface AgainSummaryProps {
  readonly draft: MixDraft;
  readonly onOpen: () => void;
}

/** What would be started, and the way to change it. */
export function AgainSummary({ draft, onOpen }: AgainSummaryProps) {
  const { mix, slip } = $words.value;
  const { card, bayName } = namingOf(draft.cardId);
  const order = draft.repairOrder.trim();
  const made = slip.made(card?.name ?? draft.cardId, formatThickness(draft.thicknessMm, $place.value.locale));
  const parts = [bayName(draft.bayId), mix.substrates[draft.substrate], `${draft.hardener} %`];
  return (
    <div class="again">
      <p class="again-panel">{draft.panel}</p>
      <p class="again-made">{made}</p>
      <p>{[...parts, ...(order === '' ? [] : [slip.order(order)])].join(' · ')}</p>
      <button type="button" class="second" onClick={onOpen}>
        {mix.change}
      </button>
    </div>
  );
}
