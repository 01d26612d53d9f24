// How much to mix for a spot, and how long it stays spreadable.
import { useState } from 'preact/hooks';
import { previewMix } from '../../actions/previews.ts';
import { mixAmountOf } from '../../format/mixAmount.ts';
import { formatMass, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { epochAt, MS_PER_MIN } from '../../format/phase.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { lengthUnit, METRIC } from '../../format/units.ts';
import { $place, namingOf } from '../../state/computed.ts';
import type { MixDraft } from '../../state/mixDraft.ts';
import { $connection, $live, $words } from '../../state/sources.ts';
import { NumberField } from '../NumberField.tsx';
import { usePreview } from '../usePreview.ts';
import type { MixPartProps } from './mixPart.ts';

/** A hand's breadth: ten centimetres, or four inches. */
const DEFAULT_SPOT_CM = { mm: 10, in: 10.16 } as const;

/** The amounts for a spot; its size is not stored anywhere. */
export function MixAmount({ draft }: MixPartProps) {
  const { mix } = $words.value;
  const place = $place.value;
  const [lengthText, setLengthText] = useState(String(DEFAULT_SPOT_CM[place.units.length]));
  const [widthText, setWidthText] = useState(lengthText);
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
        <NumberField
          label={mix.spotLength(lengthUnit(place.units))}
          quantity="length"
          stored={lengthText}
          onStore={setLengthText}
        />
        <NumberField
          label={mix.spotWidth(lengthUnit(place.units))}
          quantity="length"
          stored={widthText}
          onStore={setWidthText}
        />
        <p class="amounts" aria-live="polite">
          {amount === null ? (
            '–'
          ) : (
            <>
              <Mass massG={amount.fillerG} /> {mix.filler}
              <br />
              <Mass massG={amount.hardenerG} /> {mix.hardenerWord}
            </>
          )}
        </p>
      </div>
      {card === undefined ? null : (
        <p class="working">
          {mix.working(formatPlain(card.workingMin, place.locale), formatWholeTemperature(card.atC, place))}
        </p>
      )}
      <Today draft={draft} />
    </section>
  );
}

/** A dose of hardener is too small for a scale in ounces: grams stand beside them. */
function Mass({ massG }: { readonly massG: number }) {
  const place = $place.value;
  return (
    <>
      <b>{formatMass(massG, place)}</b>
      {place.units.mass === 'g' ? null : ` (${formatMass(massG, { ...place, units: METRIC })})`}
    </>
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
