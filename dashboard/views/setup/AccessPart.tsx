// Access in Setup: who may use the shop, how another one is let in, and what is not protected.
import { useEffect } from 'preact/hooks';
import { keepAccess, leaveSession } from '../../actions/accessActs.ts';
import { $access, $accessSetup } from '../../state/access.ts';
import { $words } from '../../state/sources.ts';
import { Devices } from '../access/Devices.tsx';
import { PairDevice } from '../access/PairDevice.tsx';
import { Passphrase } from '../access/Passphrase.tsx';
import { SensorUsers } from '../access/SensorUsers.tsx';
import { Sessions } from '../access/Sessions.tsx';
import '../access/access.css';

/** The whole part; without sign-in it says what that means and how to get it. */
export function AccessPart() {
  const { access: words } = $words.value;
  useEffect(keepAccess, []);
  if ($access.value?.kind === 'open') {
    return (
      <>
        <p>{words.open}</p>
        <p>{words.openHow}</p>
      </>
    );
  }
  const setup = $accessSetup.value;
  if (setup === 'loading') return <p role="status">{words.loading}</p>;
  if (setup === 'failed') return <p role="status">{words.failed}</p>;
  return (
    <>
      <p>{ownName()}</p>
      <div class="setup-acts">
        <button type="button" class="second" onClick={leaveSession}>
          {words.signOut}
        </button>
      </div>
      <PairDevice />
      <Devices devices={setup.devices} />
      <Sessions sessions={setup.sessions} />
      <SensorUsers users={setup.sensorUsers} />
      <Passphrase />
      <h3>{words.plainTitle}</h3>
      {setup.tls.http && setup.tls.mqtt ? <p>{words.tls}</p> : null}
      {setup.tls.http ? null : <p>{words.plainHttp}</p>}
      {setup.tls.mqtt ? null : <p>{words.plainMqtt}</p>}
    </>
  );
}

function ownName(): string {
  const { access: words } = $words.value;
  const name = $access.value?.deviceName ?? null;
  return name === null ? words.unpaired : words.device(name);
}
