// The three choices of Mix as chips.
import { useState } from 'preact/hooks';
import { formatPlain, formatThickness, formatWholeTemperature } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { METRIC } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import { $device } from '../../state/device.ts';
import { chooseCard, THICKNESS_CHOICES_MM } from '../../state/mixDraft.ts';
import { $live, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { TextField } from '../Field.tsx';
import { LayerOffer } from './LayerOffer.tsx';
import type { MixPartProps } from './mixPart.ts';

const FILLER_MAX_MM = 6;
const PUTTY_MAX_MM = 3;

export interface MixChoicesProps extends MixPartProps {
  /** The panel of a next layer is known: it is said, not asked. */
  readonly isLayer: boolean;
}

/** Product, panel, thickness. */
export function MixChoices({ draft, onChange, errorOf, isLayer }: MixChoicesProps) {
  const { mix } = $words.value;
  const place = $place.value;
  const { lastMix } = $device.value;
  const cards = $live.value?.cards ?? [];
  const card = cards.find(({ id }) => id === draft.cardId);
  const thickestMm = card !== undefined && card.thicknessMm < 1 ? PUTTY_MAX_MM : FILLER_MAX_MM;
  return (
    <div class="mix-choices">
      {isLayer ? <OnWhat draft={draft} /> : null}
      <ChipGroup
        label={mix.product}
        chosen={draft.cardId}
        error={errorOf('cardId')}
        chips={lastFirst(cards, ({ id }) => id === lastMix?.cardId).map(({ id, name, sandMin, atC }) => ({
          value: id,
          name,
          hint: mix.cardHint({
            minutes: formatPlain(sandMin, place.locale),
            atC: formatWholeTemperature(atC, place),
          }),
        }))}
        onChoose={(id) => {
          const chosen = cards.find((entry) => entry.id === id);
          if (chosen !== undefined) onChange(chooseCard(draft, chosen, cards));
        }}
      />
      {isLayer ? null : <PanelChoice draft={draft} onChange={onChange} errorOf={errorOf} />}
      <ChipGroup
        label={mix.thickness}
        layout={place.units.length === 'mm' ? 'row' : 'dense'}
        chosen={draft.thicknessMm}
        error={errorOf('thicknessMm')}
        chips={THICKNESS_CHOICES_MM.map((value, index) => ({
          value,
          name: formatThickness(value, place),
          ...hintOf([
            ...(index === 0 ? [mix.skim] : []),
            // The cards and the trade's habits are in millimetres: they are never lost.
            ...(place.units.length === 'mm'
              ? []
              : [formatThickness(value, { ...place, units: METRIC }).replace(' ', '\u00a0')]),
          ]),
        }))}
        onChoose={(thicknessMm) => onChange({ thicknessMm })}
      />
      {draft.thicknessMm > thickestMm ? (
        <p class="field-warn">{mix.tooThick(formatThickness(thickestMm, place))}</p>
      ) : null}
    </div>
  );
}

function PanelChoice({ draft, onChange, errorOf }: MixPartProps) {
  const { mix } = $words.value;
  const last = $device.value.lastMix?.panel;
  const panels = lastFirst($live.value?.panels ?? [], (panel) => panel === last);
  // "Roof" on the way to "Roof rail" is still being typed, though there is a chip of that name.
  const [isTyped, setIsTyped] = useState(!panels.includes(draft.panel));
  const choose = (panel: string, typed: boolean): void => {
    setIsTyped(typed);
    onChange({ panel });
  };
  return (
    <>
      <ChipGroup
        label={mix.panel}
        layout="dense"
        chosen={draft.panel}
        error={errorOf('panel')}
        chips={panels.map((name) => ({ value: name, name }))}
        onChoose={(panel) => choose(panel, false)}
      />
      <TextField
        label={mix.otherPanel}
        value={isTyped ? draft.panel : ''}
        onInput={(panel) => choose(panel, true)}
      />
      <LayerOffer draft={draft} onChange={onChange} />
    </>
  );
}

/** What the layer comes on, as the shop knows it. */
function OnWhat({ draft }: Pick<MixPartProps, 'draft'>) {
  const { mix, slip } = $words.value;
  const place = $place.value;
  const order = draft.repairOrder.trim();
  const underlayMm = numberOf(draft.underlay) ?? 0;
  const parts = [
    ...(order === '' ? [] : [slip.order(order)]),
    ...(underlayMm > 0 ? [mix.underneath(formatThickness(underlayMm, place))] : []),
  ];
  return (
    <div>
      <p class="again-panel">{draft.panel}</p>
      <p class="again-made">{parts.join(' · ')}</p>
    </div>
  );
}

function hintOf(parts: readonly string[]): { readonly hint?: string } {
  return parts.length === 0 ? {} : { hint: parts.join(', ') };
}

function lastFirst<Entry>(entries: readonly Entry[], isLast: (entry: Entry) => boolean): Entry[] {
  return [...entries.filter(isLast), ...entries.filter((entry) => !isLast(entry))];
}
