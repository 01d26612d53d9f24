// A code for one more device: for Bench or to look only, as text and as a picture for its camera.
import { useState } from 'preact/hooks';
import type { PairingWire } from '../../../server/contract/index.ts';
import { hidePairing, makePairing } from '../../actions/accessActs.ts';
import { $pairing } from '../../state/access.ts';
import { $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { AskForm } from './AskForm.tsx';
import { QrPicture } from './QrPicture.tsx';

/** The choice, or the code that was made. */
export function PairDevice() {
  const { access: words } = $words.value;
  const [right, setRight] = useState<'view' | 'work'>('work');
  const pairing = $pairing.value;
  return (
    <>
      <h3>{words.pairTitle}</h3>
      {pairing === null ? (
        <AskForm label={words.pairTitle} text={words.pairMake} onAsk={() => makePairing(right)}>
          <ChipGroup<'view' | 'work'>
            label={words.pairFor}
            chosen={right}
            chips={[
              { value: 'work', name: words.pairWork, hint: words.pairWorkHint },
              { value: 'view', name: words.pairView, hint: words.pairViewHint },
            ]}
            onChoose={setRight}
          />
        </AskForm>
      ) : (
        <Made pairing={pairing} />
      )}
    </>
  );
}

function Made({ pairing }: { readonly pairing: PairingWire }) {
  const { access: words } = $words.value;
  const { code, address, validMin, picture } = pairing;
  return (
    <div class="pairing" role="status">
      <QrPicture rows={picture} label={words.pairPicture(address)} />
      <div>
        <p>{words.pairScan}</p>
        <dl>
          <dt>{words.pairCode}</dt>
          <dd class="pairing-code">{`${code.slice(0, 4)}-${code.slice(4)}`}</dd>
          <dt>{words.pairAddress}</dt>
          <dd>{address.split('#')[0]}</dd>
        </dl>
        <p>{words.pairValid(validMin)}</p>
        <div class="setup-acts">
          <button type="button" class="first" onClick={hidePairing}>
            {words.pairDone}
          </button>
        </div>
      </div>
    </div>
  );
}
