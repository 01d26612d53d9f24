// The last mix once more, as a few lines: nothing to choose, only to start.
import { formatDose, formatThickness } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
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
  const made = slip.made(card?.name ?? draft.cardId, formatThickness(draft.thicknessMm, $place.value));
  const parts = [bayName(draft.bayId), mix.substrates[draft.substrate], doseOf(draft)];
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

/** The hardener as it is read; what is no number stays as it was typed. */
export function doseOf({ hardener }: Pick<MixDraft, 'hardener'>): string {
  const dosePct = numberOf(hardener);
  return dosePct === null ? hardener : formatDose(dosePct, $place.value.locale);
}
