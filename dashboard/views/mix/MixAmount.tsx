// How much to mix for a spot, and how long it stays spreadable.
import { useEffect, useState } from 'preact/hooks';
import type { EstimateWire } from '../../../server/contract/index.ts';
import { previewOf } from '../../actions/startBatch.ts';
import { mixAmountOf } from '../../format/mixAmount.ts';
import { formatMass, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { epochAt, MS_PER_MIN } from '../../format/phase.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { numberOf, type MixDraft } from '../../state/mixDraft.ts';
import { $live, $words } from '../../state/sources.ts';
import { TextField } from '../Field.tsx';
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
  const [estimate, setEstimate] = useState<EstimateWire | null>(null);
  const { cardId, bayId } = draft;
  useEffect(() => {
    const look = async (): Promise<void> => {
      const found = await previewOf(draft);
      if (found !== null) setEstimate(found);
    };
    void look();
  }, [draft]);
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
