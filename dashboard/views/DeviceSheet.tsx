// Settings of this device: who uses it, light or dark, the alarm.
import { allowNotifications, playAlarm, setDevice } from '../actions/deviceActs.ts';
import { $device, type Look } from '../state/device.ts';
import { $alarm, $live, $words } from '../state/sources.ts';
import { ChipGroup } from './ChipGroup.tsx';
import { CheckField, TextField } from './Field.tsx';
import { Sheet } from './Sheet.tsx';

/** The settings sheet. */
export function DeviceSheet() {
  const { menu } = $words.value;
  const { look } = $device.value;
  return (
    <Sheet title={menu.title}>
      <PersonChoice />
      <ChipGroup<Look>
        label={menu.look}
        chosen={look}
        chips={[
          { value: 'auto', name: menu.lookAuto },
          { value: 'light', name: menu.lookLight },
          { value: 'dark', name: menu.lookDark },
        ]}
        onChoose={(chosen) => setDevice({ look: chosen })}
      />
      <AlarmChoice />
    </Sheet>
  );
}

function PersonChoice() {
  const { menu } = $words.value;
  const people = $live.value?.people ?? [];
  const { person } = $device.value;
  const chips = people.map(({ initials, name }) => ({
    value: initials,
    name: initials,
    ...(name === null ? {} : { hint: name }),
  }));
  return (
    <>
      <ChipGroup
        label={menu.person}
        chosen={person ?? ''}
        chips={[{ value: '', name: menu.noPerson }, ...chips]}
        onChoose={(initials) => setDevice({ person: initials === '' ? null : initials })}
      />
      <TextField
        label={menu.personTyped}
        value={people.some(({ initials }) => initials === person) ? '' : (person ?? '')}
        onInput={(typed) => setDevice({ person: typed.trim() === '' ? null : typed.trim().slice(0, 8) })}
      />
    </>
  );
}

function AlarmChoice() {
  const { menu } = $words.value;
  const { notifications } = $alarm.value;
  return (
    <section class="alarm-choice">
      <h3>{menu.alarm}</h3>
      <CheckField
        label={menu.sound}
        isChecked={!$device.value.isMuted}
        onChange={(isChecked) => setDevice({ isMuted: !isChecked })}
      />
      <div class="row">
        <button type="button" class="second" onClick={playAlarm}>
          {menu.trySound}
        </button>
        {notifications === 'ask' ? (
          <button type="button" class="second" onClick={allowNotifications}>
            {menu.notify}
          </button>
        ) : null}
      </div>
      {notifications === 'on' ? <p>{menu.notifyOn}</p> : null}
      {notifications === 'denied' ? <p>{menu.notifyDenied}</p> : null}
      {notifications === 'insecure' ? <p>{menu.notifyInsecure}</p> : null}
    </section>
  );
}
