// One thing to mind, with the sign of its gravity.
import type { Note } from '../format/reason.ts';
import { SmallSign } from './shapes.tsx';

/** A note as a line. */
export function NoteLine({ note }: { readonly note: Note }) {
  return (
    <p class="why-note" data-tone={note.tone}>
      <SmallSign name={note.tone} />
      <span>{note.sentence}</span>
    </p>
  );
}
