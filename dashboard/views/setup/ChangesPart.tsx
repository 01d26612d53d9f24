// Who changed what lately, of the shop, its sensors and its products, newest first.
import type { SettingsTouchWire, SettingsWire } from '../../../server/contract/index.ts';
import { formatDayClock } from '../../format/clock.ts';
import { formatTouch } from '../../format/setupText.ts';
import { $accessSetup } from '../../state/access.ts';
import { $place } from '../../state/computed.ts';
import { $cardSetups, $sensorList } from '../../state/setup.ts';
import { $words } from '../../state/sources.ts';
import { touchNaming } from './touchNaming.ts';

const SHOWN_COUNT_MAX = 20;

/** The last changes. */
export function ChangesPart({ settings }: { readonly settings: SettingsWire }) {
  const { changes: words } = $words.value.setup;
  const list = $sensorList.value;
  const touches: SettingsTouchWire[] = [
    ...settings.changes,
    ...(typeof list === 'string' ? [] : list.sensors.flatMap(({ changes }) => changes)),
    ...[...$cardSetups.value.values()].flatMap(({ changes }) => changes),
  ];
  const lines: Line[] = [
    ...touches.map((touch) => ({ at: touch.at, text: formatTouch(touch, touchNaming()) })),
    ...accessLines(),
  ];
  const newest = lines.toSorted((a, b) => b.at.localeCompare(a.at)).slice(0, SHOWN_COUNT_MAX);
  if (newest.length === 0) return <p>{words.none}</p>;
  return (
    <ol class="setup-lines">
      {newest.map(({ at, text }) => (
        <li key={`${at}${text}`}>{text}</li>
      ))}
    </ol>
  );
}

interface Line {
  readonly at: string;
  readonly text: string;
}

/** Who came and went, where there is sign-in. */
function accessLines(): Line[] {
  const { access: words } = $words.value;
  const setup = $accessSetup.value;
  if (typeof setup === 'string') return [];
  return setup.log.map(({ at, act, name }) => {
    const when = formatDayClock(Date.parse(at), $place.value);
    return { at, text: words.logLine({ when, name, act: words.acts[act] }) };
  });
}
