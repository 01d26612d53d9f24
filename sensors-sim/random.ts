// Seeded chance: every draw is named by a text, so that one seed decides a day whatever order things happen in.

export interface Random {
  /** The next number in 0…1, 1 excluded. */
  readonly nextFraction: () => number;
}

/** Makes a generator (sfc32) for one named purpose; the same seed and name give the same numbers. */
export function makeRandom(seed: number, name: string): Random {
  const mix = makeMixer(`${seed}|${name}`);
  let [a, b, c, d] = [mix(), mix(), mix(), mix()];
  const nextFraction = (): number => {
    const sum = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return (sum >>> 0) / 2 ** 32;
  };
  for (let warmUp = 0; warmUp < 12; warmUp += 1) nextFraction();
  return { nextFraction };
}

/** A whole number 0…below−1 that belongs to a name alone, whatever the seed. */
export function indexOfName(name: string, countMax: number): number {
  return makeMixer(name)() % countMax;
}

/** A number between two bounds, each as likely as the other. */
export function drawBetween(random: Random, bounds: readonly [low: number, high: number]): number {
  return bounds[0] + (bounds[1] - bounds[0]) * random.nextFraction();
}

/** A standard normal number (polar form of Box and Muller's method). */
export function drawNormal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random.nextFraction()));
  return radius * Math.cos(2 * Math.PI * random.nextFraction());
}

/** Whether something of a given probability happens. */
export function drawChance(random: Random, probability: number): boolean {
  return random.nextFraction() < probability;
}

/** One entry of a list that has some. */
export function drawFrom<T>(random: Random, list: readonly T[]): T {
  const drawn = list[Math.floor(random.nextFraction() * list.length)];
  if (drawn === undefined) throw new RangeError('nothing to draw from');
  return drawn;
}

/** Turns a text into 32-bit numbers (a string hash with a final avalanche). */
function makeMixer(text: string): () => number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
    hash = (hash << 13) | (hash >>> 19);
  }
  return () => {
    hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
    hash ^= hash >>> 16;
    return hash >>> 0;
  };
}
