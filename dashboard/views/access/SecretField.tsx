// A field for a passphrase: not shown, and known to the browser's own keeper of passwords.
import { FieldFrame } from '../Field.tsx';

export interface SecretFieldProps {
  readonly label: string;
  readonly value: string;
  /** The one of now, or a new one. */
  readonly holds: 'current' | 'new';
  readonly onInput: (value: string) => void;
}

/** The field with its label. */
export function SecretField({ label, value, holds, onInput }: SecretFieldProps) {
  return (
    <FieldFrame label={label}>
      {(ties) => (
        <input
          {...ties}
          type="password"
          autoComplete={`${holds}-password`}
          value={value}
          onInput={(event) => onInput(event.currentTarget.value)}
        />
      )}
    </FieldFrame>
  );
}
