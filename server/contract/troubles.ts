// What may be wrong with a part of the program, as screens name it: codes only, the words are the reader's language.
import { z } from 'zod';

/** ledger: nothing can be stored; integrity: what is stored is damaged; broker: sensors have no way in; outbox: no way out. */
export const TROUBLE_PARTS = ['ledger', 'integrity', 'broker', 'outbox'] as const;

/** failed: nobody can tell why; gone: it does not listen; late: it has waited for long; the others are of a store. */
export const PART_TROUBLES = [
  'full',
  'read-only',
  'locked',
  'damaged',
  'disk',
  'failed',
  'gone',
  'late',
] as const;

export const troubleSchema = z
  .object({ part: z.enum(TROUBLE_PARTS), code: z.enum(PART_TROUBLES) })
  .meta({ id: 'Trouble' });

export type TroublePart = (typeof TROUBLE_PARTS)[number];
export type PartTrouble = (typeof PART_TROUBLES)[number];
export type TroubleWire = z.infer<typeof troubleSchema>;
