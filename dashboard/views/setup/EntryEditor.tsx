// A button that opens a list entry's form beneath it, and takes the focus back when the form is done.
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { toggleEditor } from '../../actions/setupActs.ts';
import { $openEditors } from '../../state/setup.ts';
import { type FormPlan, formOf } from '../../state/setupForm.ts';
import { isAdrift } from '../isAdrift.ts';
import { FormConflict, FormSaid } from './SetupForm.tsx';

export interface EntryEditorProps {
  readonly plan: FormPlan;
  readonly text: string;
  /** The button's whole name, where its text alone does not tell which entry it is for. */
  readonly name?: string;
  readonly children: ComponentChildren;
}

/** The button, the form while it is open, and what became of the last save. */
export function EntryEditor({ plan, text, name, children }: EntryEditorProps) {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const isOpen = $openEditors.value.has(plan.id);
  useEffect(() => {
    if (!isOpen) return undefined;
    const opener = button.current;
    return () => {
      // The focus was in the form that is gone.
      if (isAdrift()) opener?.focus();
    };
  }, [isOpen]);
  const isJustPut = formOf(plan).undo !== null;
  useEffect(() => {
    // One tap has moved the entry here, and its button went with the place where it was.
    if (isJustPut && isAdrift()) button.current?.focus();
  }, [isJustPut]);
  return (
    <>
      <button
        ref={button}
        type="button"
        class="second entry-change"
        aria-label={name}
        aria-expanded={isOpen}
        aria-controls={isOpen ? id : undefined}
        onClick={() => toggleEditor(plan.id, !isOpen)}
      >
        {text}
      </button>
      {isOpen ? (
        <div id={id} class="entry-form">
          {children}
        </div>
      ) : (
        <FormConflict plan={plan} />
      )}
      <FormSaid plan={plan} />
    </>
  );
}
