// The config's part about what is stored: copies on a schedule, and how long readings are kept whole.
import { resolve } from 'node:path';
import { z } from 'zod';
import type { CopyPlan } from '../../domain/copyPlan.ts';

const TIME_OF_DAY = /^([01]\d|2[0-3]):([0-5]\d)$/;
const DEFAULTS = { everyMin: 1440, quietTime: '02:30', keepCount: 14, folder: 'copies' } as const;
const KEEP_DEFAULT_DAYS = 400;

export const copiesField = z
  .strictObject({
    everyMin: z
      .int()
      .min(60)
      .max(43_200)
      .optional()
      .describe(
        'From one copy to the next; a day or more waits for the quiet time. 1440, a day, when left out.',
      ),
    quietTime: z
      .string()
      .refine((text) => TIME_OF_DAY.test(text), {
        error: 'is no time of day',
        params: { allowed: 'such as 02:30' },
      })
      .optional()
      .describe(
        'Of the shop’s local day, when nobody works; 02:30 when left out. Missed: soon after the start.',
      ),
    keepCount: z
      .int()
      .min(1)
      .max(1000)
      .optional()
      .describe('Older copies beyond this many go when a new good one stands; 14 when left out.'),
    folder: z
      .string()
      .min(1)
      .optional()
      .describe('Relative to the data folder; better on another disk. copies when left out.'),
  })
  .optional()
  .describe('Copies of everything that are made by themselves.');

export const keepReadingsField = z
  .int()
  .min(60)
  .max(36_500)
  .optional()
  .describe('Older readings become means of ten minutes; 400 days when left out.');

/** How the store is kept. */
export interface StorePlan {
  readonly copies: CopyPlan;
  readonly copyFolder: string;
  readonly keepReadingsDays: number;
}

/** The plan of a config, with what it leaves out. */
export function storePlanFrom(
  config: { copies?: z.infer<typeof copiesField>; keepReadingsDays?: z.infer<typeof keepReadingsField> },
  dataFolder: string,
): StorePlan {
  const { copies = {} } = config;
  const [, hours, minutes] = TIME_OF_DAY.exec(copies.quietTime ?? DEFAULTS.quietTime) ?? [];
  return {
    copies: {
      everyMin: copies.everyMin ?? DEFAULTS.everyMin,
      quietMin: Number(hours) * 60 + Number(minutes),
      keepCount: copies.keepCount ?? DEFAULTS.keepCount,
    },
    copyFolder: resolve(dataFolder, copies.folder ?? DEFAULTS.folder),
    keepReadingsDays: config.keepReadingsDays ?? KEEP_DEFAULT_DAYS,
  };
}
