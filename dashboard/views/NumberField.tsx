// A field for a number in the reader's own unit; what is handed on is metric, turned over once as it is typed.
import { useState } from 'preact/hooks';
import { fieldTextOf, fieldUnit, type Quantity, storedTextOf } from '../format/typedNumber.ts';
import { $place } from '../state/computed.ts';
import { TextField } from './Field.tsx';

export interface NumberFieldProps {
  readonly label: string;
  /** The metric text, which may be half a number. */
  readonly stored: string;
  readonly onStore: (stored: string) => void;
  readonly quantity?: Quantity;
  readonly error?: string | null;
  readonly hint?: string | undefined;
}

/** What was typed stays as it was typed, until its value or its unit changes from elsewhere. */
export function NumberField(props: NumberFieldProps) {
  const { label, stored, onStore, quantity = 'plain', error = null, hint } = props;
  const how = { quantity, reader: $place.value };
  const unit = fieldUnit(how);
  const [typed, setTyped] = useState({ text: '', stored: '', unit: '' });
  const isTyped = typed.text !== '' && typed.stored === stored && typed.unit === unit;
  return (
    <TextField
      label={label}
      value={isTyped ? typed.text : fieldTextOf(stored, how)}
      error={error}
      hint={hint}
      isNumber
      onInput={(text) => {
        const next = storedTextOf(text, how);
        setTyped({ text, stored: next, unit });
        onStore(next);
      }}
    />
  );
}
