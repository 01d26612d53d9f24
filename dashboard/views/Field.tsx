// One labelled form field with its error beside it.
import { useId } from 'preact/hooks';

interface Shared {
  readonly label: string;
  readonly value: string;
  readonly onInput: (value: string) => void;
  readonly error?: string | null;
  /** What the field is for, in a line beneath it. */
  readonly hint?: string | undefined;
}

export interface TextFieldProps extends Shared {
  readonly isNumber?: boolean;
  readonly suggestions?: readonly string[] | undefined;
}

/** A text or number field; numbers are typed as text, so that nothing typed is lost. */
export function TextField(props: TextFieldProps) {
  const { label, value, onInput, error = null, hint, isNumber, suggestions } = props;
  const id = useId();
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {label}
      </label>
      <input
        id={id}
        type="text"
        inputMode={isNumber === true ? 'decimal' : 'text'}
        autoComplete="off"
        value={value}
        list={suggestions === undefined ? undefined : `${id}-list`}
        aria-invalid={error !== null}
        aria-describedby={describedBy(id, { error, hint })}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
      {suggestions === undefined ? null : (
        <datalist id={`${id}-list`}>
          {suggestions.map((text) => (
            <option key={text} value={text}>
              {text}
            </option>
          ))}
        </datalist>
      )}
      <FieldError id={`${id}-error`} error={error} />
      <FieldHint id={`${id}-hint`} hint={hint} />
    </div>
  );
}

export interface SelectFieldProps extends Shared {
  readonly options: readonly { readonly value: string; readonly name: string }[];
}

/** A native choice from a list. */
export function SelectField({ label, value, onInput, error = null, hint, options }: SelectFieldProps) {
  const id = useId();
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {label}
      </label>
      <select
        id={id}
        value={value}
        aria-invalid={error !== null}
        aria-describedby={describedBy(id, { error, hint })}
        onChange={(event) => onInput(event.currentTarget.value)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.name}
          </option>
        ))}
      </select>
      <FieldError id={`${id}-error`} error={error} />
      <FieldHint id={`${id}-hint`} hint={hint} />
    </div>
  );
}

export interface CheckFieldProps {
  readonly label: string;
  readonly isChecked: boolean;
  readonly onChange: (isChecked: boolean) => void;
}

/** A tick box with its label. */
export function CheckField({ label, isChecked, onChange }: CheckFieldProps) {
  return (
    <label class="check-field">
      <input
        type="checkbox"
        checked={isChecked}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
      <span>{label}</span>
    </label>
  );
}

function FieldError({ id, error }: { readonly id: string; readonly error: string | null }) {
  return error === null ? null : (
    <p class="field-error" id={id}>
      {error}
    </p>
  );
}

function FieldHint({ id, hint }: { readonly id: string; readonly hint: string | undefined }) {
  return hint === undefined ? null : (
    <p class="field-hint" id={id}>
      {hint}
    </p>
  );
}

/** The texts that a reader hears after the field's name. */
function describedBy(
  id: string,
  { error, hint }: { readonly error: string | null; readonly hint: string | undefined },
): string | undefined {
  const ids = [...(error === null ? [] : [`${id}-error`]), ...(hint === undefined ? [] : [`${id}-hint`])];
  return ids.length === 0 ? undefined : ids.join(' ');
}
