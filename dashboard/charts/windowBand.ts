// The window as a feather edge: full where the test time is most probable, tapering to nothing at both ends,
// like spread filler seen from the side. Plain geometry on a 0…1 axis, drawn by WindowBar and by other screens.

export interface WindowTimes {
  readonly mixedAt: number;
  readonly p10At: number;
  readonly p50At: number;
  readonly p90At: number;
  readonly nowAt: number;
  readonly kickedAt: number | null;
  readonly buildAt: number | null;
  readonly edgeAt: number | null;
}

export interface WindowBand {
  readonly fromAt: number;
  readonly untilAt: number;
  /** Closed outline in a box 1000 wide and 100 high, its base along the bottom. */
  readonly outline: string;
  /** Positions along the axis, 0 at mixing, 1 at its end; null where there is none. */
  readonly p10Fraction: number;
  readonly p50Fraction: number;
  readonly p90Fraction: number;
  readonly nowFraction: number;
  readonly kickedFraction: number | null;
  readonly buildFraction: number | null;
  readonly edgeFraction: number | null;
}

export const BAND_WIDTH_PX = 1000;
export const BAND_HEIGHT_PX = 100;
/** z of P90 on the standard normal scale. */
const P90_Z = 1.2816;
/** Where the band has thinned to nothing, on the same scale. */
const FEATHER_Z = 2.3;
const STEPS_COUNT = 44;
const MARGIN_FRACTION = 0.03;
const PAST_WINDOW_FRACTION = 0.25;

/** The band of a window, or null where the times are not in order. */
export function makeWindowBand(times: WindowTimes): WindowBand | null {
  const { mixedAt, p10At, p50At, p90At, nowAt } = times;
  if (!(mixedAt < p50At && p10At <= p50At && p50At <= p90At)) return null;
  const untilAt = axisEndAt(times);
  const place = (instantAt: number): number => clampFraction((instantAt - mixedAt) / (untilAt - mixedAt));
  const placeOrNull = (instantAt: number | null): number | null =>
    instantAt === null ? null : place(instantAt);
  return {
    fromAt: mixedAt,
    untilAt,
    outline: outlineOf(times, place),
    p10Fraction: place(p10At),
    p50Fraction: place(p50At),
    p90Fraction: place(p90At),
    nowFraction: place(nowAt),
    kickedFraction: placeOrNull(times.kickedAt),
    buildFraction: placeOrNull(times.buildAt),
    edgeFraction: placeOrNull(times.edgeAt),
  };
}

/** How full the band is at an instant, 0…1: a bell whose two sides have their own width. */
export function fullnessAt(times: WindowTimes, instantAt: number): number {
  const { p10At, p50At, p90At } = times;
  const sideMs = Math.max(1, (instantAt < p50At ? p50At - p10At : p90At - p50At) / P90_Z);
  const z = (instantAt - p50At) / sideMs;
  const floor = Math.exp((-FEATHER_Z * FEATHER_Z) / 2);
  return Math.max(0, (Math.exp((-z * z) / 2) - floor) / (1 - floor));
}

function outlineOf(times: WindowTimes, place: (instantAt: number) => number): string {
  const startAt = Math.max(times.mixedAt, featherStartAt(times));
  const endAt = featherEndAt(times);
  const points = Array.from({ length: STEPS_COUNT + 1 }, (_, index) => {
    const instantAt = startAt + ((endAt - startAt) * index) / STEPS_COUNT;
    const y = BAND_HEIGHT_PX * (1 - fullnessAt(times, instantAt));
    return `${(place(instantAt) * BAND_WIDTH_PX).toFixed(1)},${y.toFixed(1)}`;
  });
  const base = (instantAt: number): string =>
    `${(place(instantAt) * BAND_WIDTH_PX).toFixed(1)},${BAND_HEIGHT_PX}`;
  return `M${base(startAt)} L${points.join(' L')} L${base(endAt)} Z`;
}

/** Where the band begins to rise. */
export function featherStartAt({ p10At, p50At }: WindowTimes): number {
  return p50At - ((p50At - p10At) * FEATHER_Z) / P90_Z;
}

function featherEndAt({ p50At, p90At }: WindowTimes): number {
  return p50At + ((p90At - p50At) * FEATHER_Z) / P90_Z;
}

/** A bit after the band's end; further when now lies beyond it, but never so far that the band gets small. */
function axisEndAt(times: WindowTimes): number {
  const endAt = featherEndAt(times);
  const spanMs = endAt - times.mixedAt;
  const nowEndAt = Math.min(times.nowAt, endAt + spanMs * PAST_WINDOW_FRACTION);
  return Math.max(endAt, nowEndAt) + spanMs * MARGIN_FRACTION;
}

function clampFraction(fraction: number): number {
  return Math.min(1, Math.max(0, fraction));
}
