// A product's form: what the tin states, and beside it what that would mean, worked out anew as one types.
import { toggleEditor } from '../../actions/setupActs.ts';
import { formatLength } from '../../format/numbers.ts';
import { temperatureUnit, thicknessUnit } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import type { FormPlan } from '../../state/setupForm.ts';
import { type FieldError, $words } from '../../state/sources.ts';
import { CardPlausible } from './CardPlausible.tsx';
import { FormNumber, FormSelect, FormText } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';
import { useCardPreview } from './useCardPreview.ts';

export interface CardFormProps {
  readonly plan: FormPlan;
  readonly label: string;
  readonly isNew?: boolean;
}

const BEAD_CM = 10;
const FILLS = ['regular', 'light'] as const;

/** The form with its picture. */
export function CardForm({ plan, label, isNew = false }: CardFormProps) {
  const preview = useCardPreview(plan);
  const found = preview.answer?.kind === 'refused' ? preview.answer.errors : [];
  return (
    <SetupForm plan={plan} label={label} isNew={isNew} isEditor onSaved={() => toggleEditor(plan.id, false)}>
      <div class="card-form">
        <TimeFields plan={plan} found={found} />
        <CardPlausible plan={plan} preview={preview} />
        <OtherFields plan={plan} found={found} />
      </div>
    </SetupForm>
  );
}

interface FieldsProps {
  readonly plan: FormPlan;
  readonly found: readonly FieldError[];
}

/** What the times follow from. */
function TimeFields({ plan, found }: FieldsProps) {
  const { card: words } = $words.value.setup;
  const { units } = $place.value;
  return (
    <div class="setup-fields">
      <FormText plan={plan} path="name" label={words.name} />
      <FormSelect
        plan={plan}
        path="fill"
        label={words.fill}
        hint={words.fillHint}
        options={FILLS.map((fill) => ({ value: fill, name: words.fills[fill] }))}
      />
      <FormNumber
        plan={plan}
        path="atC"
        label={words.at(temperatureUnit(units))}
        hint={words.atHint}
        quantity="temperature"
        found={found}
      />
      <FormNumber
        plan={plan}
        path="thicknessMm"
        label={words.thickness(thicknessUnit(units))}
        hint={words.thicknessHint}
        quantity="thickness"
        found={found}
      />
      <FormNumber
        plan={plan}
        path="workingMin"
        label={words.working}
        hint={words.workingHint}
        found={found}
      />
      <FormNumber plan={plan} path="sandMin" label={words.sand} hint={words.sandHint} found={found} />
    </div>
  );
}

/** What a screen warns of, the dose, and what few tins state. */
function OtherFields({ plan, found }: FieldsProps) {
  const { card: words } = $words.value.setup;
  const { units } = $place.value;
  return (
    <div class="setup-fields">
      <FormNumber
        plan={plan}
        path="lowestC"
        label={words.lowest(temperatureUnit(units))}
        hint={words.lowestHint}
        quantity="temperature"
        found={found}
      />
      <FormNumber
        plan={plan}
        path="thicknessMaxMm"
        label={words.thicknessMax(thicknessUnit(units))}
        hint={words.thicknessMaxHint}
        quantity="thickness"
        found={found}
      />
      <FormNumber
        plan={plan}
        path="hardenerPct"
        label={words.hardener}
        hint={words.hardenerHint}
        found={found}
      />
      <FormNumber
        plan={plan}
        path="beadGramsPer10Cm"
        label={words.bead(units.mass, formatLength(BEAD_CM, $place.value))}
        hint={words.beadHint}
        quantity="mass"
      />
      <RareFields plan={plan} found={found} />
    </div>
  );
}

function RareFields({ plan, found }: FieldsProps) {
  const { card: words } = $words.value.setup;
  return (
    <details class="setup-more">
      <summary>{words.rare}</summary>
      <div class="setup-fields">
        <FormNumber
          plan={plan}
          path="activationKJPerMol"
          label={words.activation}
          hint={words.activationHint}
          found={found}
        />
        <FormNumber
          plan={plan}
          path="humidityEffectPer10Pct"
          label={words.humidity}
          hint={words.humidityHint}
          found={found}
        />
      </div>
    </details>
  );
}
