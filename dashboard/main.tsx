// Starts the page: what the device remembers, its language, the shell, and the feed.
import { effect } from '@preact/signals';
import { render } from 'preact';
import { startLanguage } from './feed/language.ts';
import { startFeed } from './feed/startFeed.ts';
import { startMemory } from './feed/memory.ts';
import { $title } from './state/computed.ts';
import { changeDevice, $device } from './state/device.ts';
import { $isWallAsked } from './state/floor.ts';
import { homePath, screenOf } from './state/homePath.ts';
import { $path, $words } from './state/sources.ts';
import { Shell } from './views/Shell.tsx';
import './tokens.css';
import './base.css';
import './fields.css';

startMemory();
effect(() => {
  document.title = $title.value;
});
// Apart from the title, which changes every second: a language, even the same again, makes the browser style everything anew.
effect(() => {
  document.documentElement.lang = $words.value.language;
});
effect(() => {
  const { look } = $device.value;
  if (look === 'auto') delete document.documentElement.dataset['look'];
  else document.documentElement.dataset['look'] = look;
});

if (location.pathname === '/') {
  const isPhone = matchMedia('(max-width: 39.99rem), (pointer: coarse) and (max-height: 30rem)').matches;
  history.replaceState(null, '', homePath({ lastScreen: $device.peek().lastScreen, isPhone }));
}
readAddress();
addEventListener('popstate', readAddress);
effect(() => {
  const lastScreen = screenOf($path.value);
  if (lastScreen !== null && lastScreen !== $device.peek().lastScreen) changeDevice({ lastScreen });
});
effect(() => {
  if ($path.value !== location.pathname) history.pushState(null, '', $path.value);
});

const root = document.querySelector('#app');
if (root === null) throw new Error('index.html has no #app');
void startLanguage().then(() => render(<Shell />, root));
void startFeed();

function readAddress(): void {
  $path.value = location.pathname;
  $isWallAsked.value = new URLSearchParams(location.search).get('wall') === '1';
}
