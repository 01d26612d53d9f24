// How much to mix for a spot, and how long it stays spreadable.
import { useState } from 'preact/hooks';
import { previewMix } from '../../actions/previews.ts';
import { mixAmountOf } from '../../format/mixAmount.ts';
import { formatMass, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { epochAt, MS_PER_MIN } from '../../format/phase.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { numberOf, type MixDraft } from '../../state/mixDraft.ts';
import { $connection, $live, $words } from '../../state/sources.ts';
import { TextField } from '../Field.tsx';
import { usePreview } from '../usePreview.ts';
import type { MixPartProps } from './mixPart.ts';

const DEFAULT_SPOT_CM = 10;

/** The amounts for a spot; its size is not stored anywhere. */
export function MixAmount({ draft }: MixPartProps) {
  const { mix } = $words.value;
  const { locale } = $place.value;
  const [lengthText, setLengthText] = useState(String(DEFAULT_SPOT_CM));
  const [widthText, setWidthText] = useState(String(DEFAULT_SPOT_CM));
  const card = $live.value?.cards.find(({ id }) => id === draft.cardId);
  const amount = mixAmountOf({
    lengthCm: numberOf(lengthText) ?? 0,
    widthCm: numberOf(widthText) ?? 0,
    thicknessMm: draft.thicknessMm,
    hardenerPct: numberOf(draft.hardener) ?? 0,
    fill: card?.fill ?? 'regular',
  });
  return (
    <section class="mix-amount">
      <h3>{mix.amount}</h3>
      <div class="row">
        <TextField label={mix.spotLength} value={lengthText} onInput={setLengthText} isNumber />
        <TextField label={mix.spotWidth} value={widthText} onInput={setWidthText} isNumber />
        <p class="amounts" aria-live="polite">
          {amount === null ? (
            '–'
          ) : (
            <>
              <b>{formatMass(amount.fillerG, locale)}</b> {mix.filler}
              <br />
              <b>{formatMass(amount.hardenerG, locale)}</b> {mix.hardenerWord}
            </>
          )}
        </p>
      </div>
      {card === undefined ? null : (
        <p class="working">
          {mix.working(formatPlain(card.workingMin, locale), formatWholeTemperature(card.atC, locale))}
        </p>
      )}
      <Today draft={draft} />
    </section>
  );
}

function Today({ draft }: { readonly draft: MixDraft }) {
  const { mix, unit } = $words.value;
  const { cardId, bayId } = draft;
  const previewed = usePreview({
    // One question for all drafts: the last answer stays until the next one is there.
    question: 'mix',
    restsOn: JSON.stringify([draft, $connection.value]),
    ask: async (signal) => previewMix(draft, signal),
  });
  const estimate = previewed?.kind === 'estimate' ? previewed.estimate : null;
  const computedAt = epochAt(estimate?.computedAt);
  const minutesTo = (text: string | null | undefined): string | null => {
    const instantAt = epochAt(text);
    if (instantAt === null || computedAt === null) return null;
    return `${Math.max(1, Math.round((instantAt - computedAt) / MS_PER_MIN))} ${unit.min}`;
  };
  const spread = minutesTo(estimate?.spreadUntilAt);
  const test = minutesTo(estimate?.testFromAt);
  return spread === null || test === null ? null : (
    <p class="today">{mix.today({ bay: namingOf(cardId).bayName(bayId), spread, test })}</p>
  );
}
