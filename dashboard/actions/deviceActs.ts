// What people set on this device, and what they open and close on its screen.
import type { AirColumnsWire, BatchWire } from '../../server/contract/index.ts';
import { askForNotifications, tryAlarm, unlockAlarm } from '../feed/alarm.ts';
import { readShopNow } from '../feed/clock.ts';
import { readBayAir } from '../feed/readings.ts';
import { changeDevice, $device, type DeviceMemory } from '../state/device.ts';
import { $dialog, $path, $toast, setTrouble, type OpenDialog } from '../state/sources.ts';

/** Changes what this device remembers. */
export function setDevice(changes: Partial<DeviceMemory>): void {
  changeDevice(changes);
}

/** Opens a dialog, without the troubles of an earlier one. */
export function openDialog(dialog: OpenDialog): void {
  if (dialog.kind === 'mix') setTrouble('mix', null);
  $dialog.value = dialog;
}

/** Closes whatever dialog is open. */
export function closeDialog(): void {
  $dialog.value = null;
}

/** Takes the toast away. */
export function dismissToast(): void {
  $toast.value = null;
}

/** Takes a trouble away that was read. */
export function dismissTrouble(place: string): void {
  setTrouble(place, null);
}

/** Switches the sound on or off; the tap also lets the browser make sound at all. */
export function toggleSound(): void {
  changeDevice({ isMuted: !$device.peek().isMuted });
  void unlockAlarm();
}

/** Goes to Bench without loading the page anew. */
export function openBench(event: MouseEvent): void {
  if (event.metaKey || event.ctrlKey || event.shiftKey) return;
  event.preventDefault();
  $path.value = '/bench';
}

/** Goes to Setup, which asks who is there where it must. */
export function openSetup(): void {
  $dialog.value = null;
  $path.value = '/setup';
}

/** Plays the alarm once. */
export function playAlarm(): void {
  void tryAlarm();
}

/** Asks the browser for notifications. */
export function allowNotifications(): void {
  void askForNotifications();
}

/** The air of a batch's bay since it was mixed. */
export async function airSinceMixing(batch: BatchWire): Promise<AirColumnsWire | null> {
  return readBayAir(batch.bayId, { fromAt: Date.parse(batch.mixedAt), untilAt: readShopNow() });
}
