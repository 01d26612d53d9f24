// What this device may do, and what managers see of who else may; all of it the server's word.
import { computed, signal } from '@preact/signals';
import { holdsRight } from '../../server/contract/accessTerms.ts';
import type {
  AccessSetupWire,
  AccessWire,
  PairingWire,
  SensorPasswordWire,
} from '../../server/contract/index.ts';
import type { SetupRead } from './setup.ts';

/** Null before the server has said; until then nothing is held back. */
export const $access = signal<AccessWire | null>(null);
/** Counts answers that said no: whoever reads access looks again. */
export const $accessDoubts = signal(0);
/** The code that an address brought along. */
export const $broughtCode = signal('');
export const $accessSetup = signal<SetupRead<AccessSetupWire>>('loading');
/** A code as long as it is shown. */
export const $pairing = signal<PairingWire | null>(null);
/** A password of a sensor's user, which is told once. */
export const $toldPassword = signal<SensorPasswordWire | null>(null);

/** Whether this device is let in at all. */
export const $isShut = computed(() => $access.value !== null && $access.value.right === null);
export const $mayWork = computed(() => $access.value === null || holdsRight($access.value.right, 'work'));
export const $mayManage = computed(() => $access.value === null || holdsRight($access.value.right, 'manage'));
