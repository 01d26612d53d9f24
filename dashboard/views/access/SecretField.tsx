// A field for a passphrase: not shown, and known to the browser's own keeper of passwords.
import { useId } from 'preact/hooks';

export interface SecretFieldProps {
  readonly label: string;
  readonly value: string;
  /** The one of now, or a new one. */
  readonly holds: 'current' | 'new';
  readonly onInput: (value: string) => void;
}

/** The field with its label. */
export function SecretField({ label, value, holds, onInput }: SecretFieldProps) {
  const id = useId();
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {label}
      </label>
      <input
        id={id}
        type="password"
        autoComplete={`${holds}-password`}
        value={value}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
    </div>
  );
}
