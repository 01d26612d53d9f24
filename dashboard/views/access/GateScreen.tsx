// What a device sees that is not let in, or not there: a code pairs it, a passphrase signs a manager in.
import { useState } from 'preact/hooks';
import { pairDevice, signInAs, type Told } from '../../actions/accessActs.ts';
import { $access, $broughtCode, $isShut } from '../../state/access.ts';
import { $kept, $path, $words } from '../../state/sources.ts';
import { TextField } from '../Field.tsx';
import { Mark } from '../shapes.tsx';
import { AskForm } from './AskForm.tsx';
import { SecretField } from './SecretField.tsx';
import '../setup/setupForm.css';
import './access.css';

/** The page of pairing. */
export function GateScreen() {
  const { gate } = $words.value;
  const access = $access.value;
  const ownName = access?.deviceName ?? null;
  return (
    <div class="gate">
      <p class="gate-mark">
        <Mark />
        <span>Sandby</span>
      </p>
      <section class="gate-part">
        <h1>{$isShut.value ? gate.title : gate.pair}</h1>
        <p>{ownName === null ? gate.intro : gate.again(ownName)}</p>
        <KeptLine />
        <PairForm />
      </section>
      {access?.signedIn === true ? null : (
        <section class="gate-part">
          <h2>{gate.managers}</h2>
          <SignInForm />
        </section>
      )}
      {access?.tls === false ? <p class="gate-plain">{gate.plain}</p> : null}
    </div>
  );
}

/** In place of Setup, for who is not signed in. */
export function SignInScreen() {
  const { gate } = $words.value;
  return (
    <div class="gate">
      <section class="gate-part">
        <h1>{gate.setupTitle}</h1>
        <p>{gate.setupIntro}</p>
        <SignInForm />
      </section>
      {$access.value?.tls === false ? <p class="gate-plain">{gate.plain}</p> : null}
    </div>
  );
}

/** In place of a screen that this device has no right for. */
export function FloorOnlyScreen() {
  const { gate } = $words.value;
  return (
    <div class="blank">
      <h1 class="blank-title">{gate.floorOnly}</h1>
      <p>{gate.floorOnlyHint}</p>
      <button type="button" class="first big" onClick={() => ($path.value = '/floor')}>
        {gate.toFloor}
      </button>
    </div>
  );
}

function KeptLine() {
  const { gate } = $words.value;
  const count = $kept.value.length;
  return count === 0 || !$isShut.value ? null : <p class="gate-kept">{gate.kept(count)}</p>;
}

function PairForm() {
  const { gate } = $words.value;
  const [code, setCode] = useState($broughtCode.value);
  const [name, setName] = useState('');
  return (
    <AskForm label={gate.pair} text={gate.pair} onAsk={(): Promise<Told> => pairDevice({ code, name })}>
      <TextField label={gate.code} value={code} hint={gate.codeHint} onInput={setCode} />
      <TextField label={gate.name} value={name} hint={gate.nameHint} onInput={setName} />
    </AskForm>
  );
}

function SignInForm() {
  const { gate } = $words.value;
  const [passphrase, setPassphrase] = useState('');
  if ($access.value?.passphrase === false) return <p>{gate.noPassphrase}</p>;
  return (
    <AskForm label={gate.signIn} text={gate.signIn} onAsk={() => signInAs(passphrase)}>
      <SecretField label={gate.passphrase} value={passphrase} holds="current" onInput={setPassphrase} />
    </AskForm>
  );
}
