// Whether this phone is called while the page is closed, and for what: offered where the browser allows it, else said why not.
import { callThisPhone, stopThisPhone } from '../actions/notifyActs.ts';
import { setDevice } from '../actions/deviceActs.ts';
import { $device, type PushScreens } from '../state/device.ts';
import { $push, type PushState } from '../state/notifications.ts';
import { $words } from '../state/sources.ts';
import { ChipGroup } from './ChipGroup.tsx';

/** The choice. */
export function PushChoice() {
  const { push: words } = $words.value;
  const state = $push.value;
  const isOffered = state === 'off' || state === 'on' || state === 'failed' || state === 'busy';
  return (
    <section class="alarm-choice">
      <h3>{words.title}</h3>
      {isOffered ? <Offered isOn={state === 'on'} isBusy={state === 'busy'} /> : null}
      <p role="status">{saidOf(state)}</p>
    </section>
  );
}

function Offered({ isOn, isBusy }: { readonly isOn: boolean; readonly isBusy: boolean }) {
  const { push: words } = $words.value;
  const { bench, floor, all } = words.screensOf;
  return (
    <>
      <ChipGroup<PushScreens>
        label={words.screens}
        chosen={$device.value.pushScreens}
        chips={[
          { value: 'bench', name: bench },
          { value: 'floor', name: floor },
          { value: 'all', name: all },
        ]}
        onChoose={(pushScreens) => setDevice({ pushScreens })}
      />
      <div class="row">
        <button
          type="button"
          class="second"
          aria-disabled={isBusy}
          onClick={isOn ? stopThisPhone : callThisPhone}
        >
          {isOn ? words.stop : words.call}
        </button>
      </div>
    </>
  );
}

function saidOf(state: PushState): string {
  const { push: words } = $words.value;
  const { person } = $device.value;
  if (state !== 'on') return words[state];
  return `${words.on} ${person === null ? words.onForAll : words.onFor(person)}`;
}
