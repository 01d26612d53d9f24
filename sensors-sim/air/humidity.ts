// Water in the air as mass a cubic metre: what is carried by air that changes places, and what a cold wall takes out.

/** The most vapour that air of a temperature can hold; saturation pressure after Buck 1981, over water or ice. */
export function saturationFrom(airC: number): number {
  const pressurePa =
    airC >= 0
      ? 611.21 * Math.exp((18.678 - airC / 234.5) * (airC / (257.14 + airC)))
      : 611.15 * Math.exp((23.036 - airC / 333.7) * (airC / (279.82 + airC)));
  // Ideal gas: 18.015 g/mol over 8.314 J/(mol K).
  return (2.1668 * pressurePa) / (airC + 273.15);
}

/** Vapour of air of a temperature and relative humidity. */
export function vapourFrom({
  airC,
  relativeHumidityPct,
}: {
  airC: number;
  relativeHumidityPct: number;
}): number {
  return (saturationFrom(airC) * relativeHumidityPct) / 100;
}

/** Relative humidity of air of a temperature and vapour. */
export function relativeHumidityFrom({ airC, vapourGPerM3 }: { airC: number; vapourGPerM3: number }): number {
  return (100 * vapourGPerM3) / saturationFrom(airC);
}

export interface VapourDrive {
  readonly outsideGPerM3: number;
  readonly exchangePerS: number;
  readonly sourceGPerM3PerS: number;
  readonly wallC: number;
  readonly stepS: number;
}

/** Vapour one step later: exact for constant exchange, sources and a wall that takes out what it cannot hold. */
export function stepVapour(vapourGPerM3: number, drive: VapourDrive): number {
  const wallGPerM3 = saturationFrom(drive.wallC);
  const condensingPerS = vapourGPerM3 > wallGPerM3 ? CONDENSING_PER_S : 0;
  const lossPerS = drive.exchangePerS + condensingPerS;
  const gain =
    drive.exchangePerS * drive.outsideGPerM3 + condensingPerS * wallGPerM3 + drive.sourceGPerM3PerS;
  if (lossPerS === 0) return vapourGPerM3 + gain * drive.stepS;
  const restGPerM3 = gain / lossPerS;
  return restGPerM3 + (vapourGPerM3 - restGPerM3) * Math.exp(-lossPerS * drive.stepS);
}

/** How fast still air brings its surplus of vapour to a cold wall. */
const CONDENSING_PER_S = 0.0012;
