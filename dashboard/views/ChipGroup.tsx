// A choice of one by chips: native radio buttons under large labels.
import { useId } from 'preact/hooks';

export interface Chip<Value extends string | number> {
  readonly value: Value;
  /** The chip's name; readers and tests know it by this alone. */
  readonly name: string;
  /** A second line in small type. */
  readonly hint?: string;
  /** The language of the name, where it is not the page's. */
  readonly lang?: string;
}

export interface ChipGroupProps<Value extends string | number> {
  readonly label: string;
  readonly chips: readonly Chip<Value>[];
  readonly chosen: Value | null;
  readonly onChoose: (value: Value) => void;
  readonly error?: string | null;
  /** wide: names with a hint; dense: many short names; row: a few in one line. */
  readonly layout?: 'wide' | 'dense' | 'row';
}

/** A radio group drawn as chips. */
export function ChipGroup<Value extends string | number>(props: ChipGroupProps<Value>) {
  const id = useId();
  const { label, chips, chosen, onChoose, error = null, layout = 'wide' } = props;
  return (
    <div
      role="radiogroup"
      class="chip-group"
      aria-labelledby={`${id}-label`}
      aria-invalid={error !== null}
      aria-describedby={error === null ? undefined : `${id}-error`}
    >
      <span class="field-label" id={`${id}-label`}>
        {label}
      </span>
      <div class="chips" data-layout={layout}>
        {chips.map(({ value, name, hint, lang }) => (
          <label class="chip" key={value} lang={lang}>
            <input
              type="radio"
              name={id}
              aria-label={name}
              checked={value === chosen}
              onChange={() => onChoose(value)}
            />
            <span class="chip-name">{name}</span>
            {hint === undefined ? null : <span class="chip-hint">{hint}</span>}
          </label>
        ))}
      </div>
      {error === null ? null : (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}
