// The button that ends something for good: it asks once more first, since what is ended must be made anew.
import { useState } from 'preact/hooks';
import type { Told } from '../../actions/accessActs.ts';
import { $words } from '../../state/sources.ts';
import { AskForm } from './AskForm.tsx';

/** The button, and the question in its place. */
export function EndEntry({ name, onEnd }: { readonly name: string; readonly onEnd: () => Promise<Told> }) {
  const { access: words } = $words.value;
  const [isAsked, setIsAsked] = useState(false);
  if (!isAsked) {
    return (
      <button type="button" class="quiet" aria-label={words.endOf(name)} onClick={() => setIsAsked(true)}>
        {words.end}
      </button>
    );
  }
  return (
    <div class="access-sure">
      <p>{words.endSure(name)}</p>
      <AskForm
        label={words.endOf(name)}
        text={words.endYes}
        onAsk={onEnd}
        beside={
          <button type="button" class="second" onClick={() => setIsAsked(false)}>
            {words.endNo}
          </button>
        }
      />
    </div>
  );
}
