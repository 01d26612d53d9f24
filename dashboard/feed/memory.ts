// Keeps what the device remembers in its own storage.
import { effect } from '@preact/signals';
import { $device, parseMemory } from '../state/device.ts';

const STORAGE_KEY = 'sandby.device';

/** Reads the memory and writes down every change of it. */
export function startMemory(): void {
  $device.value = parseMemory(localStorage.getItem(STORAGE_KEY));
  effect(() => localStorage.setItem(STORAGE_KEY, JSON.stringify($device.value)));
}
