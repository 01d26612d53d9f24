// Said once a device: its screen goes dark while something counts, because the browser does not let the page prevent it.
import { setDevice } from '../../actions/deviceActs.ts';
import { $isCounting } from '../../state/computed.ts';
import { $device } from '../../state/device.ts';
import { $awake, $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';

/** The note, until it is understood. */
export function DarkNote() {
  const { awake } = $words.value;
  const state = $awake.value;
  const isDark = state === 'insecure' || state === 'refused';
  if (!isDark || !$isCounting.value || $device.value.isDarkTold) return null;
  return (
    <div class="dark-note" role="note">
      <SmallSign name="silent" />
      <p>{awake[state]}</p>
      <button type="button" class="quiet" onClick={() => setDevice({ isDarkTold: true })}>
        {awake.understood}
      </button>
    </div>
  );
}
