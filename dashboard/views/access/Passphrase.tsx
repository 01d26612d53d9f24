// A new passphrase for managers; the one of now is asked for, since the screen may have been left open.
import { useState } from 'preact/hooks';
import { changePassphrase } from '../../actions/accessActs.ts';
import { $words } from '../../state/sources.ts';
import { AskForm } from './AskForm.tsx';
import { SecretField } from './SecretField.tsx';

const EMPTY = { current: '', next: '', again: '' };

/** The form, behind a line that opens it. */
export function Passphrase() {
  const { access: words } = $words.value;
  const [typed, setTyped] = useState(EMPTY);
  return (
    <>
      <h3>{words.phrase}</h3>
      <details class="setup-more">
        <summary>{words.phraseChange}</summary>
        <AskForm
          label={words.phraseChange}
          text={words.phraseChange}
          done={words.phraseDone}
          onAsk={() => changePassphrase(typed)}
          onDone={() => setTyped(EMPTY)}
        >
          <SecretField
            label={words.phraseNow}
            value={typed.current}
            holds="current"
            onInput={(current) => setTyped({ ...typed, current })}
          />
          <SecretField
            label={words.phraseNext}
            value={typed.next}
            holds="new"
            onInput={(next) => setTyped({ ...typed, next })}
          />
          <SecretField
            label={words.phraseAgain}
            value={typed.again}
            holds="new"
            onInput={(again) => setTyped({ ...typed, again })}
          />
        </AskForm>
      </details>
    </>
  );
}
