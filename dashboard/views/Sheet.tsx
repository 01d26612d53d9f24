// A dialog: a full-height sheet on a phone, a panel elsewhere. Native, so that focus is held and Esc closes.
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { closeDialog } from '../actions/deviceActs.ts';
import { $words } from '../state/sources.ts';
import { SmallSign } from './shapes.tsx';

export interface SheetProps {
  readonly title: string;
  readonly children: ComponentChildren;
  /** Stays in view at the bottom. */
  readonly foot?: ComponentChildren;
  readonly isWide?: boolean;
}

/** A modal sheet with a title and a close button. */
export function Sheet({ title, children, foot, isWide = false }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const shown = dialog.current;
    const opener = document.activeElement;
    shown?.showModal();
    return () => {
      shown?.close();
      if (opener instanceof HTMLElement) opener.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class={isWide ? 'sheet wide' : 'sheet'}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        closeDialog();
      }}
    >
      <header class="sheet-head">
        <h2 id={titleId}>{title}</h2>
        <button type="button" class="plain square" aria-label={$words.value.act.close} onClick={closeDialog}>
          <SmallSign name="close" />
        </button>
      </header>
      <div class="sheet-body">{children}</div>
      {foot === undefined ? null : <footer class="sheet-foot">{foot}</footer>}
    </dialog>
  );
}
