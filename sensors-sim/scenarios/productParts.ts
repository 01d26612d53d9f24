// The products of the two-bay shops: what the tins hold in truth, changed from shop to shop by a few words.
import { COMMON_RIPENING } from '../film/maturity.ts';
import type { FormulaChange, ProductPlan, RipeningPlan } from './scenario.ts';

export interface ProductsOf {
  /** How many times as long as on the tin. */
  readonly timeScale: number;
  readonly ripening: RipeningPlan;
  readonly batchSd: number;
  readonly dampingPct?: number;
  /** Changes by product; products that are not named stay as they are. */
  readonly changes?: Readonly<Record<string, readonly FormulaChange[]>>;
}

/** The tins of one shop. */
export function productsOf({
  timeScale,
  ripening,
  batchSd,
  dampingPct = HARDLY_DAMPING_PCT,
  changes = {},
}: ProductsOf): ProductPlan[] {
  return tins.map((tin) => ({
    ...tin,
    gelDoseMin: tin.gelDoseMin * timeScale,
    sandDoseMin: tin.sandDoseMin * timeScale,
    ripening,
    batchSd,
    dampingPct,
    changes: changes[tin.cardId] ?? [],
  }));
}

/** The law of ripening by which so many degrees less, about 15 °C, take twice as long. */
export function ripeningOf({ frozenC, doublingK }: { frozenC: number; doublingK: number }): RipeningPlan {
  return { frozenC, paceK: (Math.LN2 / doublingK) * (MIDDLE_C - frozenC) ** 2 };
}

const MIDDLE_C = 15;
const HARDLY_DAMPING_PCT = 5000;

const heavy = { filmJPerM2K: 1980, filmWPerMK: 0.48 } as const;
const light = { filmJPerM2K: 1420, filmWPerMK: 0.31 } as const;
const alike = {
  ripening: COMMON_RIPENING,
  batchSd: 0.1,
  dampingPct: HARDLY_DAMPING_PCT,
  changes: [],
} as const;

/** Doses for a shop whose tins say the truth of a film of a millimetre in warm air. */
const tins: readonly ProductPlan[] = [
  {
    ...alike,
    ...heavy,
    cardId: 'body-filler',
    gelDoseMin: 5.1,
    sandDoseMin: 21.8,
    selfHeatK: 45,
    tinMin: 18,
  },
  {
    ...alike,
    ...light,
    cardId: 'lightweight-filler',
    gelDoseMin: 5.6,
    sandDoseMin: 21.4,
    selfHeatK: 47,
    tinMin: 18,
  },
  {
    ...alike,
    ...heavy,
    cardId: 'finishing-putty',
    gelDoseMin: 4.55,
    sandDoseMin: 19.6,
    selfHeatK: 41,
    tinMin: 18,
  },
  {
    ...alike,
    ...heavy,
    cardId: 'winter-filler',
    gelDoseMin: 3.65,
    sandDoseMin: 16.4,
    selfHeatK: 45,
    tinMin: 14,
  },
];
