// The head of every page: the mark, the screens, the air of the bays, sound and settings.
import { openDialog, toggleSound } from '../actions/deviceActs.ts';
import { $mayManage, $mayWork } from '../state/access.ts';
import { $device } from '../state/device.ts';
import { screenOf } from '../state/homePath.ts';
import { $alarm, $live, $path, $words } from '../state/sources.ts';
import { AirStrip } from './AirStrip.tsx';
import { Mark, SmallSign } from './shapes.tsx';

/** The header. */
export function Header() {
  const { header } = $words.value;
  const home = $mayWork.value ? '/bench' : '/floor';
  return (
    <header class="top">
      <div class="top-row">
        <a class="home" href={home} onClick={go(home)} aria-label="Sandby">
          <Mark />
          <span class="home-name">{$live.value?.shop.name ?? 'Sandby'}</span>
        </a>
        <Screens />
        <SoundButton />
        <button
          type="button"
          class="plain person"
          aria-label={`${header.menu}: ${header.person($device.value.person)}`}
          onClick={() => openDialog({ kind: 'device' })}
        >
          <SmallSign name="person" />
          <span class="person-name">{header.person($device.value.person)}</span>
        </button>
      </div>
      <AirStrip />
    </header>
  );
}

function Screens() {
  const { screen, header } = $words.value;
  const current = screenOf($path.value) ?? '/bench';
  const screens = [
    { path: '/bench', name: screen.bench, isOffered: $mayWork.value },
    { path: '/floor', name: screen.floor, isOffered: true },
    { path: '/air', name: screen.air, isOffered: true },
    { path: '/records', name: screen.records, isOffered: $mayWork.value },
    { path: '/setup', name: screen.setup, isOffered: $mayManage.value },
  ].filter(({ isOffered }) => isOffered);
  return (
    <nav class="screens" aria-label={header.screens}>
      {screens.map(({ path, name }) => (
        <a key={path} href={path} aria-current={path === current ? 'page' : undefined} onClick={go(path)}>
          {name}
        </a>
      ))}
    </nav>
  );
}

function SoundButton() {
  const { header } = $words.value;
  const { isMuted } = $device.value;
  const isWaiting = !isMuted && $alarm.value.sound === 'locked';
  const text = isMuted ? header.soundOff : isWaiting ? header.soundTap : header.soundOn;
  return (
    <button
      type="button"
      class="plain square sound"
      aria-label={text}
      title={text}
      aria-pressed={!isMuted}
      data-waiting={isWaiting}
      onClick={toggleSound}
    >
      <SmallSign name={isMuted ? 'silent' : 'bell'} />
    </button>
  );
}

function go(path: string): (event: MouseEvent) => void {
  return (event) => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    $path.value = path;
  };
}
