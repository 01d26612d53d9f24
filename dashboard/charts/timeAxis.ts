// The one time axis of Floor: half an hour behind, two hours ahead, in fractions of its own width.
// Things stand at fixed places from an anchor and the whole film is shifted, so that time passing moves one style, not a row.

export const PAST_MIN = 30;
export const AHEAD_MIN = 120;
const MS_PER_MIN = 60_000;
const SPAN_MS = (PAST_MIN + AHEAD_MIN) * MS_PER_MIN;
/** Where now stands on the axis. */
export const NOW_FRACTION = PAST_MIN / (PAST_MIN + AHEAD_MIN);
/** The anchor moves on so seldom that rows are drawn anew only then, and often enough that places stay small numbers. */
const ANCHOR_EVERY_MS = 6 * 60 * MS_PER_MIN;
const TICK_EVERY_MIN = 15;
/** The film moves in steps that no eye can see: half a pixel of a wide axis. */
const SHIFT_STEPS_COUNT = 2000;

export interface AxisTick {
  readonly at: number;
  readonly fraction: number;
  readonly isHour: boolean;
}

/** The instant from which places are counted. */
export function anchorOf(nowAt: number): number {
  return Math.floor(nowAt / ANCHOR_EVERY_MS) * ANCHOR_EVERY_MS;
}

/** The place of an instant from the anchor, in widths of the axis. */
export function placeOf(instantAt: number, axis: { readonly anchorAt: number }): number {
  return (instantAt - axis.anchorAt) / SPAN_MS;
}

/** How far the film is shifted, in widths of the axis: so far that now stands at its fraction. */
export function shiftOf(nowAt: number, axis: { readonly anchorAt: number }): number {
  const fraction = placeOf(nowAt, axis) - NOW_FRACTION;
  return Math.round(fraction * SHIFT_STEPS_COUNT) / SHIFT_STEPS_COUNT;
}

/** Quarter hours that are on the axis or about to be; whole hours of the shop's clock where its zone is off by whole quarters. */
export function ticksOf(nowAt: number, axis: { readonly anchorAt: number }): AxisTick[] {
  const everyMs = TICK_EVERY_MIN * MS_PER_MIN;
  const firstAt = Math.floor((nowAt - PAST_MIN * MS_PER_MIN) / everyMs) * everyMs;
  const count = Math.ceil((PAST_MIN + AHEAD_MIN) / TICK_EVERY_MIN) + 2;
  return Array.from({ length: count }, (_, index) => {
    const at = firstAt + index * everyMs;
    return { at, fraction: placeOf(at, axis), isHour: at % (60 * MS_PER_MIN) === 0 };
  });
}
