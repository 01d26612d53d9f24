// What this device remembers between visits: who uses it, its language and units, its look, its sound, its last mix.
import { signal } from '@preact/signals';
import type { Language } from '../format/language.ts';
import type { Units } from '../format/units.ts';
import { screenOf } from './homePath.ts';
import type { LastMix } from './mixDraft.ts';

export type Look = 'auto' | 'light' | 'dark';
export type FloorOrder = 'promise' | 'bay';
/** For what a phone is called while the page is closed. */
export type PushScreens = 'bench' | 'floor' | 'all';
export type LanguageChoice = 'auto' | Language;

/** Auto takes the units of the shop's country. */
export interface UnitChoices {
  readonly temperatureUnit: 'auto' | Units['temperature'];
  readonly lengthUnit: 'auto' | Units['length'];
  readonly massUnit: 'auto' | Units['mass'];
}

export interface DeviceMemory extends UnitChoices {
  readonly person: string | null;
  readonly look: Look;
  readonly language: LanguageChoice;
  readonly isMuted: boolean;
  readonly isOnlyMine: boolean;
  /** Whether this device's person knows that its screen goes dark. */
  readonly isDarkTold: boolean;
  readonly lastMix: LastMix | null;
  /** The screen that the bare address leads to. */
  readonly lastScreen: string | null;
  readonly floorOrder: FloorOrder;
  readonly floorBayId: string | null;
  readonly floorPerson: string | null;
  /** Whether somebody wanted this device to be called while the page is closed. */
  readonly isPushWanted: boolean;
  readonly pushScreens: PushScreens;
}

export const emptyMemory: DeviceMemory = {
  person: null,
  look: 'auto',
  language: 'auto',
  temperatureUnit: 'auto',
  lengthUnit: 'auto',
  massUnit: 'auto',
  isMuted: false,
  isOnlyMine: true,
  isDarkTold: false,
  lastMix: null,
  lastScreen: null,
  floorOrder: 'promise',
  floorBayId: null,
  floorPerson: null,
  isPushWanted: false,
  pushScreens: 'bench',
};

export const $device = signal<DeviceMemory>(emptyMemory);

/** Changes some of what the device remembers; the feed writes it down. */
export function changeDevice(changes: Partial<DeviceMemory>): void {
  $device.value = { ...$device.peek(), ...changes };
}

/** Reads a stored memory; what is missing or wrong in it becomes the default. */
export function parseMemory(text: string | null): DeviceMemory {
  if (text === null) return emptyMemory;
  try {
    const value = JSON.parse(text) as Partial<DeviceMemory>;
    return {
      person: typeof value.person === 'string' ? value.person : null,
      look: oneOf(['light', 'dark'], value.look) ?? 'auto',
      language: oneOf(['en', 'es'], value.language) ?? 'auto',
      temperatureUnit: oneOf(['C', 'F'], value.temperatureUnit) ?? 'auto',
      lengthUnit: oneOf(['mm', 'in'], value.lengthUnit) ?? 'auto',
      massUnit: oneOf(['g', 'oz'], value.massUnit) ?? 'auto',
      isMuted: value.isMuted === true,
      isOnlyMine: value.isOnlyMine !== false,
      isDarkTold: value.isDarkTold === true,
      lastMix: isLastMix(value.lastMix) ? value.lastMix : null,
      lastScreen: typeof value.lastScreen === 'string' ? screenOf(value.lastScreen) : null,
      floorOrder: value.floorOrder === 'bay' ? 'bay' : 'promise',
      floorBayId: typeof value.floorBayId === 'string' ? value.floorBayId : null,
      floorPerson: typeof value.floorPerson === 'string' ? value.floorPerson : null,
      isPushWanted: value.isPushWanted === true,
      pushScreens: oneOf(['floor', 'all'], value.pushScreens) ?? 'bench',
    };
  } catch {
    return emptyMemory;
  }
}

function oneOf<Choice extends string>(choices: readonly Choice[], value: unknown): Choice | null {
  return choices.find((choice) => choice === value) ?? null;
}

function isLastMix(value: unknown): value is LastMix {
  if (typeof value !== 'object' || value === null) return false;
  const mix = value as Partial<LastMix>;
  return (
    typeof mix.cardId === 'string' &&
    typeof mix.panel === 'string' &&
    typeof mix.thicknessMm === 'number' &&
    typeof mix.bayId === 'string' &&
    typeof mix.substrate === 'string' &&
    typeof mix.hardener === 'string' &&
    typeof mix.repairOrder === 'string'
  );
}
