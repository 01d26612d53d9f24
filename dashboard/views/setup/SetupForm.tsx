// The frame of every form of Setup: its fields, who was first, Save and the way back, and what became of it.
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { leaveForm, saveForm, saveMine, takeTheirs, undoSave } from '../../actions/setupActs.ts';
import { formatTouch } from '../../format/setupText.ts';
import { $place } from '../../state/computed.ts';
import { rejectionText } from '../../state/rejection.ts';
import { changedPaths, type FormPlan, formOf, type Said } from '../../state/setupForm.ts';
import { type FieldError, $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';
import { isAdrift } from '../isAdrift.ts';
import { touchNaming } from './touchNaming.ts';

export interface SetupFormProps {
  readonly plan: FormPlan;
  readonly label: string;
  readonly children: ComponentChildren;
  readonly isNew?: boolean;
  /** Whether the form is an editor that Leave closes. */
  readonly isEditor?: boolean;
  readonly onSaved?: () => void;
  /** What the form itself has found wrong. */
  readonly mistakes?: readonly FieldError[];
}

/** A form that tells beside its fields what is wrong, and keeps what was typed. */
export function SetupForm(props: SetupFormProps) {
  const { plan, label, children, isNew = false, isEditor = false, onSaved, mistakes = [] } = props;
  const { form: words } = $words.value.setup;
  const { isSaving, said, conflict } = formOf(plan);
  const isWrong = said === 'lookAgain';
  const element = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (isWrong) element.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [isWrong]);
  const hasConflict = conflict !== null;
  useEffect(() => {
    if (!hasConflict) return undefined;
    const shown = element.current;
    return () => {
      // The choice that had the focus is made and gone.
      if (isAdrift()) {
        shown?.querySelector<HTMLElement>('button[type="submit"]')?.focus();
      }
    };
  }, [hasConflict]);
  const isChanged = changedPaths(plan).length > 0;
  return (
    <form
      ref={element}
      class="setup-form"
      aria-label={label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void saveForm(plan, { isNew, mistakes }).then((isStored) => (isStored ? onSaved?.() : undefined));
      }}
    >
      {children}
      <FormConflict plan={plan} onSaved={onSaved} />
      {hasConflict ? null : (
        <div class="setup-acts">
          <button type="submit" class={isChanged ? 'first' : 'second'} aria-disabled={isSaving}>
            {isSaving ? words.saving : words.save}
          </button>
          {isChanged || isEditor ? (
            <button type="button" class="quiet" onClick={() => leaveForm(plan)}>
              {words.leave}
            </button>
          ) : null}
        </div>
      )}
      {isEditor ? null : <FormSaid plan={plan} />}
    </form>
  );
}

/** What became of the last save, with the way back for ten seconds. */
export function FormSaid({ plan }: { readonly plan: FormPlan }) {
  const { form: words } = $words.value.setup;
  const { said, undo, errors } = formOf(plan);
  const elsewhere = errors.filter(({ path }) => plan.held[path] === undefined);
  return (
    <div class="setup-said" role="status">
      {said === null ? null : (
        <p class="setup-said-line" data-tone={toneOf(said)}>
          <SmallSign name={toneOf(said) === 'plain' ? 'plain' : 'warn'} />
          <span>{saidText(said)}</span>
          {undo === null ? null : (
            <button type="button" class="quiet" onClick={() => void undoSave(plan, undo)}>
              {words.putBack}
            </button>
          )}
        </p>
      )}
      {elsewhere.map((error) => (
        <p class="field-error" key={error.path}>
          {rejectionText(error, { words: $words.value, place: $place.value })}
        </p>
      ))}
    </div>
  );
}

/** Others were first: who, what, when, and the choice. */
export function FormConflict(props: {
  readonly plan: FormPlan;
  readonly onSaved?: (() => void) | undefined;
}) {
  const { plan, onSaved } = props;
  const { form: words } = $words.value.setup;
  const { conflict } = formOf(plan);
  if (conflict === null) return null;
  return (
    <div class="setup-conflict" role="alert">
      <p class="setup-said-line" data-tone="warn">
        <SmallSign name="warn" />
        <span>{words.conflict}</span>
      </p>
      <ul>
        {conflict.changes.map((touch) => (
          <li key={touch.version}>{formatTouch(touch, touchNaming())}</li>
        ))}
      </ul>
      <div class="setup-acts">
        <button
          type="button"
          class="first"
          onClick={() => void saveMine(plan).then((isStored) => (isStored ? onSaved?.() : undefined))}
        >
          {words.mine}
        </button>
        <button type="button" class="second" onClick={() => takeTheirs(plan)}>
          {words.theirs}
        </button>
      </div>
    </div>
  );
}

function toneOf(said: Said): 'plain' | 'warn' {
  return said === 'saved' || said === 'putBack' || said === 'nothing' ? 'plain' : 'warn';
}

function saidText(said: Said): string {
  const { form: words } = $words.value.setup;
  switch (said) {
    case 'saved':
      return words.saved;
    case 'putBack':
      return words.wasPutBack;
    case 'nothing':
      return words.nothing;
    case 'lookAgain':
      return words.lookAgain;
    case 'network':
      return words.network;
    case 'server':
      return words.server;
    case 'refused':
      return words.refused;
    case 'rights':
      return words.rights;
  }
}
