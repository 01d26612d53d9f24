// The defaults of a mix, for when they are wrong: bay, metal, hardener, repair order, a car come in cold.
import { formatThickness } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { temperatureUnit, thicknessUnit } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import type { MixDraft, Substrate } from '../../state/mixDraft.ts';
import { $live, $troubles, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { CheckField, SelectField, TextField } from '../Field.tsx';
import { NumberField } from '../NumberField.tsx';
import { doseOf } from './AgainSummary.tsx';
import { detailPaths, type MixPartProps } from './mixPart.ts';

const AGO_CHOICES_MIN = [0, 1, 2, 5] as const;

/** The details, folded away unless one of them was turned down. */
export function MixDetails(part: MixPartProps) {
  const { mix } = $words.value;
  const hasError = $troubles.value['mix']?.errors.some(({ path }) => detailPaths.includes(path)) ?? false;
  return (
    <details class="mix-details" open={hasError || undefined}>
      <summary>
        {mix.details} <span class="details-short">{shortText(part.draft)}</span>
      </summary>
      <div class="details-grid">
        <WhereFields {...part} />
        <MixFields {...part} />
        <CarFields {...part} />
      </div>
    </details>
  );
}

function WhereFields({ draft, onChange, errorOf }: MixPartProps) {
  const { mix } = $words.value;
  const bays = $live.value?.bays ?? [];
  const people = $live.value?.people ?? [];
  const substrates: readonly Substrate[] = ['steel', 'aluminium', 'plastic'];
  return (
    <>
      <SelectField
        label={mix.bay}
        value={draft.bayId}
        error={errorOf('bayId')}
        options={bays.map(({ id, name }) => ({ value: id, name }))}
        onInput={(bayId) => onChange({ bayId })}
      />
      <SelectField
        label={mix.substrate}
        value={draft.substrate}
        error={errorOf('substrate')}
        options={substrates.map((value) => ({ value, name: mix.substrates[value] }))}
        onInput={(value) => onChange({ substrate: value as Substrate })}
      />
      <TextField
        label={mix.order}
        value={draft.repairOrder}
        error={errorOf('repairOrder')}
        onInput={(repairOrder) => onChange({ repairOrder })}
      />
      <TextField
        label={mix.by}
        value={draft.by}
        error={errorOf('by')}
        suggestions={people.map(({ initials }) => initials)}
        onInput={(by) => onChange({ by })}
      />
    </>
  );
}

function MixFields({ draft, onChange, errorOf }: MixPartProps) {
  const { mix, more } = $words.value;
  return (
    <>
      <NumberField
        label={mix.hardener}
        stored={draft.hardener}
        error={errorOf('hardenerPct')}
        onStore={(hardener) => onChange({ hardener })}
      />
      <NumberField
        label={mix.underlay(thicknessUnit($place.value.units))}
        quantity="thickness"
        stored={draft.underlay}
        error={errorOf('underlayMm')}
        onStore={(underlay) => onChange({ underlay })}
      />
      <CheckField
        label={mix.weighed}
        isChecked={draft.weighed}
        onChange={(weighed) => onChange({ weighed })}
      />
      <ChipGroup
        label={mix.mixedAgo}
        chosen={draft.mixedAgoMin}
        error={errorOf('mixedAt')}
        chips={AGO_CHOICES_MIN.map((value) => ({ value, name: more.ago(value) }))}
        onChoose={(mixedAgoMin) => onChange({ mixedAgoMin })}
      />
    </>
  );
}

function CarFields({ draft, onChange, errorOf }: MixPartProps) {
  const { mix } = $words.value;
  return (
    <>
      <CheckField
        label={mix.coldCar}
        isChecked={draft.isColdCar}
        onChange={(isColdCar) => onChange({ isColdCar })}
      />
      {draft.isColdCar ? (
        <>
          <NumberField
            label={mix.rolledInAgo}
            stored={draft.rolledInAgo}
            error={errorOf('rolledInAt')}
            onStore={(rolledInAgo) => onChange({ rolledInAgo })}
          />
          <NumberField
            label={mix.outdoor(temperatureUnit($place.value.units))}
            quantity="temperature"
            stored={draft.outdoor}
            error={errorOf('outdoorTemperatureC')}
            onStore={(outdoor) => onChange({ outdoor })}
          />
        </>
      ) : null}
    </>
  );
}

function shortText(draft: MixDraft): string {
  const { mix, slip } = $words.value;
  const bay = $live.value?.bays.find(({ id }) => id === draft.bayId)?.name ?? draft.bayId;
  const underlayMm = numberOf(draft.underlay) ?? 0;
  const below = underlayMm > 0 ? [mix.underneath(formatThickness(underlayMm, $place.value))] : [];
  const parts = [bay, mix.substrates[draft.substrate], doseOf(draft), ...below];
  const order = draft.repairOrder.trim();
  return [...parts, ...(order === '' ? [] : [slip.order(order)])].join(' · ');
}
