// One labelled form field with its error beside it.
import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

export interface FieldFrameProps {
  readonly label: string;
  readonly error?: string | null | undefined;
  /** What the field is for, in a line beneath it. */
  readonly hint?: string | undefined;
  /** Draws the input with what ties it to label, error and hint. */
  readonly children: (ties: FieldTies) => ComponentChildren;
}

/** The attributes that every input carries. */
export interface FieldTies {
  readonly id: string;
  readonly 'aria-invalid': boolean;
  readonly 'aria-describedby': string | undefined;
}

/** Label above, error and hint beneath; a reader hears them in that order. */
export function FieldFrame({ label, error = null, hint, children }: FieldFrameProps) {
  const id = useId();
  const texts = [...(error === null ? [] : [`${id}-error`]), ...(hint === undefined ? [] : [`${id}-hint`])];
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {label}
      </label>
      {children({
        id,
        'aria-invalid': error !== null,
        'aria-describedby': texts.length === 0 ? undefined : texts.join(' '),
      })}
      {error === null ? null : (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
      {hint === undefined ? null : (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  );
}

interface Shared extends Omit<FieldFrameProps, 'children'> {
  readonly value: string;
  readonly onInput: (value: string) => void;
}

export interface TextFieldProps extends Shared {
  readonly isNumber?: boolean;
  readonly suggestions?: readonly string[] | undefined;
}

/** A text or number field; numbers are typed as text, so that nothing typed is lost. */
export function TextField({ value, onInput, isNumber, suggestions, ...frame }: TextFieldProps) {
  const listId = useId();
  return (
    <FieldFrame {...frame}>
      {(ties) => (
        <>
          <input
            {...ties}
            type="text"
            inputMode={isNumber === true ? 'decimal' : 'text'}
            autoComplete="off"
            value={value}
            list={suggestions === undefined ? undefined : listId}
            onInput={(event) => onInput(event.currentTarget.value)}
          />
          {suggestions === undefined ? null : (
            <datalist id={listId}>
              {suggestions.map((text) => (
                <option key={text} value={text}>
                  {text}
                </option>
              ))}
            </datalist>
          )}
        </>
      )}
    </FieldFrame>
  );
}

export interface SelectFieldProps extends Shared {
  readonly options: readonly { readonly value: string; readonly name: string }[];
}

/** A native choice from a list. */
export function SelectField({ value, onInput, options, ...frame }: SelectFieldProps) {
  return (
    <FieldFrame {...frame}>
      {(ties) => (
        <select {...ties} value={value} onChange={(event) => onInput(event.currentTarget.value)}>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.name}
            </option>
          ))}
        </select>
      )}
    </FieldFrame>
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
