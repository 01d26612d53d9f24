// A lamp is known by one reading of a bare panel under it, not by its flux.
import type { Substrate } from './constants.ts';
import { PANEL_CAPACITIES_J_PER_M2K, SURFACES } from './constants.ts';
import { invariant } from './invariant.ts';
import { secondsFromMinutes } from './units.ts';

/**
 * One reading of a bare panel under a lamp, begun in balance with the bay's air.
 */
export interface LampReading {
  readonly substrate: Substrate;
  readonly airC: number;
  /** The panel after so many minutes of lamp. */
  readonly panelC: number;
  readonly afterMin: number;
  readonly movingAir?: boolean;
}

/**
 * The flux a panel absorbs from a lamp [W/m²].
 * C_p dT/dt = L − h_f (T − T_air) − h_b (T − T_cavity), T_cavity' = (T_air − T_cavity) / 5400 s, started in balance:
 * the cavity stays at the air's temperature, so L = (h_f + h_b) (T − T_air) / (1 − e^{−t (h_f + h_b) / C_p})
 * @param reading  panel temperature after some minutes; afterMin > 0
 * @returns flux [W/m²], negative when the panel is colder than the air
 * @throws Fault when no time has passed (the caller's check)
 * @source design MODEL §3: the lamp paragraph and the panel's balance
 */
export function lampFluxWPerM2(reading: LampReading): number {
  invariant(reading.afterMin > 0, 'a lamp shows its flux after some time');
  const front = reading.movingAir === true ? SURFACES.movingAirWPerM2K : SURFACES.stillAirWPerM2K;
  const total = front + SURFACES.behindPanelWPerM2K;
  const decays =
    (secondsFromMinutes(reading.afterMin) * total) / PANEL_CAPACITIES_J_PER_M2K[reading.substrate];
  return (total * (reading.panelC - reading.airC)) / -Math.expm1(-decays);
}
