// A copy of everything as a download: what it holds, how to keep it, and what became of it.
import { saveCopy } from '../../actions/setupActs.ts';
import { formatFileSize } from '../../format/setupText.ts';
import { $place } from '../../state/computed.ts';
import { $copy, type CopyState } from '../../state/setup.ts';
import { $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';
import { KeptCopies } from './KeptCopies.tsx';

/** The button and its outcome. */
export function CopyPart() {
  const { copy: words } = $words.value.setup;
  const copy = $copy.value;
  const said = saidOf(copy);
  const isWrong = copy.kind !== 'done' && copy.kind !== 'making';
  return (
    <>
      <p>{words.intro}</p>
      <p>{words.keep}</p>
      <div class="setup-acts">
        <button type="button" class="first" aria-disabled={copy.kind === 'making'} onClick={saveCopy}>
          {words.make}
        </button>
      </div>
      <div class="setup-said" role="status">
        {said === null ? null : (
          <p class="setup-said-line" data-tone={isWrong ? 'warn' : 'plain'}>
            <SmallSign name={isWrong ? 'warn' : 'plain'} />
            <span>{said}</span>
          </p>
        )}
      </div>
      <KeptCopies />
    </>
  );
}

function saidOf(copy: CopyState): string | null {
  const { copy: words } = $words.value.setup;
  switch (copy.kind) {
    case 'none':
      return null;
    case 'making':
      return words.making;
    case 'busy':
      return words.busy;
    case 'noFile':
      return words.noFile;
    case 'failed':
      return words.failed;
    case 'network':
      return words.network;
    case 'done':
      return words.done(copy.name, formatFileSize(copy.sizeBytes, $place.value.locale));
  }
}
