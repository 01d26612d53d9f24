// Starts the page: what the device remembers, the shell, then the feed.
import { effect } from '@preact/signals';
import { render } from 'preact';
import { startFeed } from './feed/startFeed.ts';
import { startMemory } from './feed/memory.ts';
import { $title } from './state/computed.ts';
import { $device } from './state/device.ts';
import { $path } from './state/sources.ts';
import { Shell } from './views/Shell.tsx';
import './tokens.css';
import './base.css';
import './fields.css';

startMemory();
effect(() => {
  document.title = $title.value;
});
effect(() => {
  const { look } = $device.value;
  if (look === 'auto') delete document.documentElement.dataset['look'];
  else document.documentElement.dataset['look'] = look;
});

$path.value = location.pathname;
addEventListener('popstate', () => {
  $path.value = location.pathname;
});
effect(() => {
  if ($path.value !== location.pathname) history.pushState(null, '', $path.value);
});

const root = document.querySelector('#app');
if (root === null) throw new Error('index.html has no #app');
render(<Shell />, root);
void startFeed();
