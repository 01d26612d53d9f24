// How much to mix for a spot, how long a bead of hardener that takes, and how long it stays spreadable.
import { useState } from 'preact/hooks';
import { closeDialog } from '../../actions/deviceActs.ts';
import { previewMix } from '../../actions/previews.ts';
import { followLink } from '../../actions/recordActs.ts';
import { beadLengthCm, formatBead, mixAmountOf } from '../../format/mixAmount.ts';
import { formatMass, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { epochAt, MS_PER_MIN } from '../../format/phase.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { lengthUnit, METRIC } from '../../format/units.ts';
import { $place, namingOf } from '../../state/computed.ts';
import type { MixDraft } from '../../state/mixDraft.ts';
import { OWN_REASONS, rejectionText } from '../../state/rejection.ts';
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
  return (
    <section class="mix-amount">
      <h3>{mix.amount}</h3>
      <div class="row">
        <SideField label={mix.spotLength(lengthUnit(place.units))} text={lengthText} onType={setLengthText} />
        <SideField label={mix.spotWidth(lengthUnit(place.units))} text={widthText} onType={setWidthText} />
        <Amounts draft={draft} lengthCm={numberOf(lengthText) ?? 0} widthCm={numberOf(widthText) ?? 0} />
      </div>
      <BeadNote beadGramsPer10Cm={card?.beadGramsPer10Cm ?? null} />
      {card === undefined ? null : (
        <p class="working">
          {mix.working(formatPlain(card.workingMin, place.locale), formatWholeTemperature(card.atC, place))}
        </p>
      )}
      <Today draft={draft} />
    </section>
  );
}

interface SideFieldProps {
  readonly label: string;
  readonly text: string;
  readonly onType: (text: string) => void;
}

function SideField({ label, text, onType }: SideFieldProps) {
  const sideCm = numberOf(text);
  const kind = sideCm === null ? 'notNumber' : sideCm > 0 ? null : 'tooSmall';
  const error = kind === null ? null : { path: '', reason: OWN_REASONS[kind], allowed: '' };
  return (
    <NumberField
      label={label}
      quantity="length"
      stored={text}
      error={error === null ? null : rejectionText(error, { words: $words.value, place: $place.value })}
      onStore={onType}
    />
  );
}

interface AmountsProps {
  readonly draft: MixDraft;
  readonly lengthCm: number;
  readonly widthCm: number;
}

function Amounts({ draft, lengthCm, widthCm }: AmountsProps) {
  const { mix } = $words.value;
  const card = $live.value?.cards.find(({ id }) => id === draft.cardId);
  const beadGramsPer10Cm = card?.beadGramsPer10Cm ?? null;
  const amount = mixAmountOf({
    lengthCm,
    widthCm,
    thicknessMm: draft.thicknessMm,
    hardenerPct: numberOf(draft.hardener) ?? 0,
    fill: card?.fill ?? 'regular',
  });
  if (amount === null) return <p class="amounts">–</p>;
  const { fillerG, hardenerG } = amount;
  return (
    <p class="amounts" aria-live="polite">
      <span>
        <Mass massG={fillerG} /> {mix.filler}
      </span>
      <span>
        <Mass massG={hardenerG} /> {mix.hardenerWord}
      </span>
      {beadGramsPer10Cm === null ? null : (
        <span>
          <b>{formatBead(beadLengthCm({ hardenerG, beadGramsPer10Cm }), $place.value)}</b> {mix.beadWord}
        </span>
      )}
    </p>
  );
}

/** A bead is told only of one that was weighed; how long it must be does not follow from the size of a puddle (TP-7). */
function BeadNote({ beadGramsPer10Cm }: { readonly beadGramsPer10Cm: number | null }) {
  const { mix } = $words.value;
  if (beadGramsPer10Cm !== null) return <p class="working">{mix.beadGuide}</p>;
  return (
    <p class="working">
      {mix.beadUnweighed}{' '}
      <a
        class="link"
        href="/setup"
        onClick={(event) => {
          followLink(event, '/setup');
          if (event.defaultPrevented) closeDialog();
        }}
      >
        {mix.beadWeigh}
      </a>
    </p>
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
