// What a count of hits says about the true probability, and what a true probability says about the count.

/** So many hits in so many tries. */
export interface HitsSeen {
  readonly hitsCount: number;
  readonly triesCount: number;
}

/** Both ends belong to the range. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** 95 % bounds of a probability after so many tries (Wilson 1927): near enough to 95 % on average, and not wide. */
export function wilsonBounds({ hitsCount, triesCount }: HitsSeen): Bounds {
  if (triesCount === 0) return { low: 0, high: 1 };
  const share = hitsCount / triesCount;
  const squared = (SIDE_Z * SIDE_Z) / triesCount;
  const middle = share + squared / 2;
  const half = Math.sqrt(squared * (share * (1 - share) + squared / 4));
  return {
    low: hitsCount === 0 ? 0 : (middle - half) / (1 + squared),
    high: hitsCount === triesCount ? 1 : (middle + half) / (1 + squared),
  };
}

/** 95 % bounds of a probability that are never too narrow (Clopper and Pearson 1934). */
export function clopperPearsonBounds({ hitsCount, triesCount }: HitsSeen): Bounds {
  const probabilityWhere = (isBelow: (probability: number) => boolean): number => {
    let low = 0;
    let high = 1;
    for (let step = 0; step < HALVINGS_COUNT; step++) {
      const middle = (low + high) / 2;
      if (isBelow(middle)) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const atLeast = (count: number, probability: number): number =>
    probabilityOfAtLeast({ hitsCount: count, triesCount }, probability);
  return {
    low: hitsCount === 0 ? 0 : probabilityWhere((p) => atLeast(hitsCount, p) < SIDE_PROBABILITY),
    high:
      hitsCount === triesCount
        ? 1
        : probabilityWhere((p) => 1 - atLeast(hitsCount + 1, p) > SIDE_PROBABILITY),
  };
}

/** The counts of hits that a true probability makes credible: its binomial quantiles at 2.5 and 97.5 %. */
export function credibleHits(options: { readonly probability: number; readonly triesCount: number }): Bounds {
  const { probability, triesCount } = options;
  const quantileAt = (level: number): number => {
    let hitsCount = 0;
    while (1 - probabilityOfAtLeast({ hitsCount: hitsCount + 1, triesCount }, probability) < level)
      hitsCount++;
    return hitsCount;
  };
  return { low: quantileAt(SIDE_PROBABILITY), high: quantileAt(1 - SIDE_PROBABILITY) };
}

/** Binomial tail, summed on the side of its mean where it is small: there no term is lost to another. */
function probabilityOfAtLeast({ hitsCount, triesCount }: HitsSeen, probability: number): number {
  if (hitsCount > probability * triesCount) return tailFrom({ hitsCount, triesCount }, probability);
  // Less than this many hits are more than so many misses.
  const missesCount = triesCount - hitsCount + 1;
  return 1 - tailFrom({ hitsCount: missesCount, triesCount }, 1 - probability);
}

/** From a count above the mean upwards, each term from the one before. */
function tailFrom({ hitsCount, triesCount }: HitsSeen, probability: number): number {
  if (hitsCount > triesCount) return 0;
  const odds = probability / (1 - probability);
  let term = Math.exp(logTermOf({ hitsCount, triesCount }, probability));
  let sum = 0;
  for (let count = hitsCount; count <= triesCount && term > 0; count++) {
    sum += term;
    term *= (odds * (triesCount - count)) / (count + 1);
  }
  return sum;
}

function logTermOf({ hitsCount, triesCount }: HitsSeen, probability: number): number {
  const missesCount = triesCount - hitsCount;
  let sum = hitsCount * Math.log(probability) + missesCount * Math.log1p(-probability);
  for (let count = 1; count <= missesCount; count++) sum += Math.log((hitsCount + count) / count);
  return sum;
}

/** 97.5 % of the normal distribution lie below; 2.5 % stay on either side. */
const SIDE_Z = 1.959_963_984_540_054;
const SIDE_PROBABILITY = 0.025;
const HALVINGS_COUNT = 50;
