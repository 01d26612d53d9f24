// Who changed what lately, of the shop, its sensors and its products, newest first.
import type { SettingsTouchWire, SettingsWire } from '../../../server/contract/index.ts';
import { formatTouch } from '../../format/setupText.ts';
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
  const newest = touches.toSorted((a, b) => b.at.localeCompare(a.at)).slice(0, SHOWN_COUNT_MAX);
  if (newest.length === 0) return <p>{words.none}</p>;
  return (
    <ol class="setup-lines">
      {newest.map((touch) => (
        <li key={`${touch.at}${touch.paths.join(' ')}`}>{formatTouch(touch, touchNaming())}</li>
      ))}
    </ol>
  );
}
