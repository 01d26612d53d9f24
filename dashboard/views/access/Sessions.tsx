// The managers who are signed in, each to be ended.
import type { AccessSetupWire } from '../../../server/contract/index.ts';
import { endSession } from '../../actions/accessActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { EndEntry } from './EndEntry.tsx';

/** The list. */
export function Sessions({ sessions }: { readonly sessions: AccessSetupWire['sessions'] }) {
  const { access: words } = $words.value;
  return (
    <>
      <h3>{words.sessions}</h3>
      <ul class="entries">
        {sessions.map(({ id, deviceName, signedInAt, mine }) => {
          const name = deviceName === null ? words.sessionUnpaired : words.session(deviceName);
          return (
            <li class="entry" key={id}>
              <b class="entry-name">{name}</b>
              <span class="entry-fact">
                {mine ? <span class="setup-badge">{words.sessionMine}</span> : null}
                <span class="entry-seen">
                  {words.signedInAt(formatDayClock(Date.parse(signedInAt), $place.value))}
                </span>
              </span>
              <div class="entry-acts">
                {mine ? null : <EndEntry name={name} onEnd={() => endSession(id)} />}
              </div>
            </li>
          );
        })}
      </ul>
    </>
  );
}
