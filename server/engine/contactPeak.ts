// A film spread on a hot panel is hottest for a moment where they touch, long before it cures.

/** How close to the panel the film's own temperature is looked at: the middle of one of 120 layers. */
const LAYER_FRACTION = 1 / 240;
const FIXED_POINT_STEPS_COUNT = 30;
const SERIES_TERMS_COUNT = 12;

/**
 * The highest temperature a film takes from a hotter panel just after they touch [K].
 * θ(x, t) = exp(H x + H² κ t) erfc(x / (2 √(κ t)) + H √(κ t)), H = ρ c / C_p, largest over time at x = d / 240
 * @param mixK  [K] film at mixing
 * @param panelK  [K] panel at mixing
 * @param filmOverPanelRatio  [1] ρ c d / C_p, 0 … 10
 * @returns peak [K], the film's own temperature when the panel is not hotter
 * @source Carslaw, Jaeger 1959, § 12.4 (memory): half space with a well-stirred mass on its face; layer chosen
 */
export function contactPeakK(mixK: number, panelK: number, filmOverPanelRatio: number): number {
  if (panelK <= mixK) return mixK;
  const half = (filmOverPanelRatio * LAYER_FRACTION) / 2;
  // θ(s) with s = H √(κ t): its summit is where s² = half / (1 − √π s e^{u²} erfc u), u = half / s + s.
  let s = Math.sqrt(half);
  for (let step = 0; step < FIXED_POINT_STEPS_COUNT; step++) {
    const u = half / s + s;
    s = Math.sqrt(half / (1 - Math.sqrt(Math.PI) * s * Math.exp(u * u) * remainder(u)));
  }
  return mixK + (panelK - mixK) * Math.exp(2 * half + s * s) * remainder(half / s + s);
}

/** erfc of a small argument by the series of erf. */
function remainder(x: number): number {
  let term = x;
  let sum = 0;
  for (let k = 0; k < SERIES_TERMS_COUNT; k++) {
    sum += term / (2 * k + 1);
    term *= -(x * x) / (k + 1);
  }
  return 1 - (2 / Math.sqrt(Math.PI)) * sum;
}
