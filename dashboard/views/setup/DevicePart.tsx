// This device: where its own settings are, and what the browser lets it do at this address.
import { allowNotifications, openDialog } from '../../actions/deviceActs.ts';
import { $canStayAwake } from '../../state/setup.ts';
import { $alarm, $words } from '../../state/sources.ts';

/** What this device may do. */
export function DevicePart() {
  const { setup, menu, alarm } = $words.value;
  const { device: words } = setup;
  const { notifications } = $alarm.value;
  return (
    <>
      <p>{words.intro}</p>
      <ul class="setup-lines">
        <li>{words.address(globalThis.location.origin)}</li>
        <li>{alarm.notify[notifications]}</li>
        <li>{$canStayAwake.value ? words.awake : words.notAwake}</li>
      </ul>
      <div class="setup-acts">
        <button type="button" class="first" onClick={() => openDialog({ kind: 'device' })}>
          {words.open}
        </button>
        {notifications === 'ask' ? (
          <button type="button" class="second" onClick={allowNotifications}>
            {menu.notify}
          </button>
        ) : null}
      </div>
    </>
  );
}
