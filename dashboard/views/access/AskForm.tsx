// A small form that asks the server for one thing and says beneath it what came of it.
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Told } from '../../actions/accessActs.ts';
import { SmallSign } from '../shapes.tsx';

export interface AskFormProps {
  readonly label: string;
  /** The button's. */
  readonly text: string;
  readonly children?: ComponentChildren;
  /** Beside the button. */
  readonly beside?: ComponentChildren;
  /** Asks; null when it was done. */
  readonly onAsk: () => Promise<Told>;
  readonly onDone?: () => void;
  /** What is said once it was done. */
  readonly done?: string;
}

/** The fields, the button and what came of it. */
export function AskForm({ label, text, children, beside, onAsk, onDone, done }: AskFormProps) {
  const [isAsking, setIsAsking] = useState(false);
  const [said, setSaid] = useState<{ readonly text: string; readonly isWrong: boolean } | null>(null);
  const ask = async (): Promise<void> => {
    if (isAsking) return;
    setIsAsking(true);
    setSaid(null);
    const told = await onAsk();
    setIsAsking(false);
    if (told !== null) setSaid({ text: told, isWrong: true });
    else if (done !== undefined) setSaid({ text: done, isWrong: false });
    if (told === null) onDone?.();
  };
  return (
    <form
      class="setup-form"
      aria-label={label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void ask();
      }}
    >
      {children}
      <div class="setup-acts">
        <button type="submit" class="first" aria-disabled={isAsking}>
          {text}
        </button>
        {beside}
      </div>
      <div class="setup-said" role="status">
        {said === null ? null : (
          <p class="setup-said-line" data-tone={said.isWrong ? 'warn' : 'plain'}>
            <SmallSign name={said.isWrong ? 'warn' : 'plain'} />
            <span>{said.text}</span>
          </p>
        )}
      </div>
    </form>
  );
}
