// The shop's clock as the page counts it: an anchor from the snapshot and the time that passed here since.

/** One reading of the server's clock, and when it arrived by this device's own steady clock. */
export interface ClockAnchor {
  readonly serverAt: number;
  readonly receivedMs: number;
  readonly rate: number;
}

/** The instant it is in the shop, in epoch ms; never ahead of the server, since the answer took time to arrive. */
export function clockAt(anchor: ClockAnchor, steadyMs: number): number {
  return Math.round(anchor.serverAt + Math.max(0, steadyMs - anchor.receivedMs) * anchor.rate);
}

/** How long between two ticks: a second on the wall clock, 200 ms where the shop's time runs faster. */
export function tickEveryMs(rate: number): number {
  return rate > 1 ? 200 : 1000;
}
