// The devices that are paired: their names, what they may, when they were seen; renamed or ended.
import { useState } from 'preact/hooks';
import type { AccessSetupWire } from '../../../server/contract/index.ts';
import { endDevice, renameDevice } from '../../actions/accessActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { TextField } from '../Field.tsx';
import { AskForm } from './AskForm.tsx';
import { EndEntry } from './EndEntry.tsx';

type Device = AccessSetupWire['devices'][number];

/** The list. */
export function Devices({ devices }: { readonly devices: readonly Device[] }) {
  const { access: words } = $words.value;
  return (
    <>
      <h3>{words.devices}</h3>
      {devices.length === 0 ? (
        <p>{words.noDevices}</p>
      ) : (
        <ul class="entries">
          {devices.map((device) => (
            <DeviceEntry key={device.id} device={device} />
          ))}
        </ul>
      )}
    </>
  );
}

function DeviceEntry({ device }: { readonly device: Device }) {
  const { access: words } = $words.value;
  const { id, name, right, pairedAt, seenAt } = device;
  const [isOpen, setIsOpen] = useState(false);
  const [typed, setTyped] = useState(name);
  const clockOf = (text: string): string => formatDayClock(Date.parse(text), $place.value);
  return (
    <li class="entry">
      <b class="entry-name">{name}</b>
      <span class="entry-fact">
        <span class="setup-badge">{words.right[right]}</span>
        <span class="entry-seen">
          {`${words.seenAt(clockOf(seenAt))}, ${words.pairedAt(clockOf(pairedAt))}`}
        </span>
      </span>
      <div class="entry-acts">
        <EndEntry name={name} onEnd={() => endDevice(id)} />
        <button
          type="button"
          class="second entry-change"
          aria-label={words.renameOf(name)}
          aria-expanded={isOpen}
          onClick={() => setIsOpen(!isOpen)}
        >
          {words.rename}
        </button>
      </div>
      {isOpen ? (
        <div class="entry-form">
          <AskForm
            label={words.renameOf(name)}
            text={words.save}
            onAsk={() => renameDevice({ id, name: typed })}
            onDone={() => setIsOpen(false)}
          >
            <TextField label={words.newName} value={typed} onInput={setTyped} />
          </AskForm>
        </div>
      ) : null}
    </li>
  );
}
