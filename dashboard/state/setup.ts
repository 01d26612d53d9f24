// What Setup reads: the settings, the sensors, the products with what was learned of them, and its open editors.
import { computed, signal } from '@preact/signals';
import type {
  CardSetupWire,
  CardWire,
  RefusedPayload,
  SensorWire,
  SettingsWire,
} from '../../server/contract/index.ts';
import { $live } from './sources.ts';

/** What was read, or why not yet. */
export type SetupRead<Body> = Body | 'loading' | 'failed';

export interface SensorList {
  readonly sensors: readonly SensorWire[];
  readonly refused: readonly RefusedPayload[];
}

/** A copy of everything, from asking for it to having it. */
export type CopyState =
  | { readonly kind: 'none' | 'making' | 'busy' | 'noFile' | 'failed' | 'network' }
  | { readonly kind: 'done'; readonly name: string; readonly sizeBytes: number };

export const $settings = signal<SetupRead<SettingsWire>>('loading');
export const $sensorList = signal<SetupRead<SensorList>>('loading');
export const $learned = signal<SetupRead<readonly CardWire[]>>('loading');
/** The products with all that they state, as far as they were read. */
export const $cardSetups = signal<ReadonlyMap<string, CardSetupWire>>(new Map());
export const $copy = signal<CopyState>({ kind: 'none' });
/** Whether the browser lets this page keep the screen on. */
export const $canStayAwake = signal(false);
/** The forms of list entries that are open. */
export const $openEditors = signal<ReadonlySet<string>>(new Set());

/** Another object whenever a snapshot was read: after each change by hand, and each minute. */
export const $setupBasis = computed(() => $live.value?.cards ?? null);

/** Opens or closes the form of a list's entry. */
export function setEditor(id: string, isOpen: boolean): void {
  const others = [...$openEditors.peek()].filter((open) => open !== id);
  $openEditors.value = new Set(isOpen ? [...others, id] : others);
}

/** Takes the settings that an answer brought. */
export function takeSettings(settings: SettingsWire): void {
  $settings.value = settings;
}

/** Takes a sensor that an answer brought. */
export function takeSensor(sensor: SensorWire): void {
  const list = $sensorList.peek();
  if (typeof list === 'string') return;
  $sensorList.value = {
    ...list,
    sensors: list.sensors.map((each) => (each.id === sensor.id ? sensor : each)),
  };
}

/** Takes a product that an answer brought. */
export function takeCard(card: CardSetupWire): void {
  $cardSetups.value = new Map([...$cardSetups.peek(), [card.id, card]]);
}
