// The fields of a form of Setup, bound to their paths: value, error and, after a conflict, what others have put.
import { typeOnForm } from '../../actions/setupActs.ts';
import { fieldTextOf, type Quantity } from '../../format/typedNumber.ts';
import { $place } from '../../state/computed.ts';
import { rejectionText } from '../../state/rejection.ts';
import { type FormPlan, formOf, valueOf } from '../../state/setupForm.ts';
import { type FieldError, $words } from '../../state/sources.ts';
import { type Chip, ChipGroup } from '../ChipGroup.tsx';
import { CheckField, SelectField, TextField } from '../Field.tsx';
import { NumberField } from '../NumberField.tsx';

export interface FormFieldProps {
  readonly plan: FormPlan;
  readonly path: string;
  readonly label: string;
  readonly hint?: string | undefined;
  /** What was found out while typing, before anything is saved. */
  readonly found?: readonly FieldError[];
}

/** A text. */
export function FormText(props: FormFieldProps & { readonly suggestions?: readonly string[] }) {
  const { plan, path, label, suggestions } = props;
  return (
    <TextField
      label={label}
      value={textIn(plan, path)}
      error={errorOf(props)}
      hint={hintOf(props, (held) => held)}
      suggestions={suggestions}
      onInput={(value) => typeOnForm(plan, path, value)}
    />
  );
}

/** A number in the reader's unit. */
export function FormNumber(props: FormFieldProps & { readonly quantity?: Quantity }) {
  const { plan, path, label, quantity = 'plain' } = props;
  return (
    <NumberField
      label={label}
      stored={textIn(plan, path)}
      quantity={quantity}
      error={errorOf(props)}
      hint={hintOf(props, (held) => fieldTextOf(held, { quantity, reader: $place.value }))}
      onStore={(stored) => typeOnForm(plan, path, stored)}
    />
  );
}

/** A choice from a list. */
export function FormSelect(
  props: FormFieldProps & { readonly options: readonly { readonly value: string; readonly name: string }[] },
) {
  const { plan, path, label, options } = props;
  return (
    <SelectField
      label={label}
      value={textIn(plan, path)}
      error={errorOf(props)}
      hint={hintOf(props, (held) => options.find(({ value }) => value === held)?.name ?? held)}
      options={options}
      onInput={(value) => typeOnForm(plan, path, value)}
    />
  );
}

/** The options of a table of names. */
export function optionsOf(names: Readonly<Record<string, string>>): { value: string; name: string }[] {
  return Object.entries(names).map(([value, name]) => ({ value, name }));
}

/** A choice of a few. */
export function FormChips(props: FormFieldProps & { readonly chips: readonly Chip<string>[] }) {
  const { plan, path, label, chips } = props;
  return (
    <ChipGroup
      label={label}
      layout="row"
      chips={chips}
      chosen={textIn(plan, path)}
      error={errorOf(props)}
      onChoose={(value) => typeOnForm(plan, path, value)}
    />
  );
}

/** Yes or no. */
export function FormCheck({ plan, path, label, hint }: FormFieldProps) {
  return (
    <div class="field">
      <CheckField
        label={label}
        isChecked={valueOf(plan, path) === true}
        onChange={(isChecked) => typeOnForm(plan, path, isChecked)}
      />
      {hint === undefined ? null : <p class="field-hint">{hint}</p>}
    </div>
  );
}

function textIn(plan: FormPlan, path: string): string {
  return String(valueOf(plan, path));
}

function errorOf({ plan, path, found = [] }: FormFieldProps): string | null {
  const error = [...formOf(plan).errors, ...found].find((each) => each.path === path);
  return error === undefined ? null : rejectionText(error, { words: $words.value, place: $place.value });
}

/** After a conflict a field says what others have put there. */
function hintOf({ plan, path, hint }: FormFieldProps, show: (held: string) => string): string | undefined {
  const { form } = $words.value.setup;
  const held = String(plan.held[path] ?? '');
  if (formOf(plan).conflict === null || held === textIn(plan, path)) return hint;
  return form.now(held === '' ? form.empty : show(held));
}
