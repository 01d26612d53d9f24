// Which units this device shows: what was chosen on it, else the shop's.
import type { Units } from '../format/units.ts';
import type { UnitChoices } from './device.ts';

const held = new Map<string, Units>();

/** The units of a device; the same choice gives the same object, so that nothing is drawn anew. */
export function unitsOf({ temperatureUnit, lengthUnit, massUnit }: UnitChoices, shops: Units): Units {
  const units: Units = {
    temperature: temperatureUnit === 'auto' ? shops.temperature : temperatureUnit,
    length: lengthUnit === 'auto' ? shops.length : lengthUnit,
    mass: massUnit === 'auto' ? shops.mass : massUnit,
  };
  const key = `${units.temperature} ${units.length} ${units.mass}`;
  const known = held.get(key) ?? units;
  held.set(key, known);
  return known;
}
