// Copies of the shop that are kept beside its store: what there is of them on the wire, and the names they may have.
import { z } from 'zod';
import { instantText } from './fields.ts';

/** A copy is named by the instant it was begun, so that names sort by age: sandby-2026-11-26T02-30-00Z.sqlite */
export const COPY_NAME = /^sandby-(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)Z\.sqlite$/;

/**
 * Why no copy could be made. no-room: the disk has too little; not-written: the folder refuses it; damaged: what was
 * copied is not whole; unfinished: the work ended before it was done.
 */
export const COPY_TROUBLES = ['no-room', 'not-written', 'damaged', 'unfinished'] as const;

/** POST /copies: nothing is to be said but the key. */
export const makeCopyBody = z.strictObject({});

export const keptCopySchema = z
  .object({
    name: z.string(),
    madeAt: instantText,
    sizeBytes: z.int(),
  })
  .meta({ id: 'KeptCopy' });

export const copiesSchema = z
  .object({
    folder: z.string().meta({ description: 'the name of the folder, without its place on the machine' }),
    everyMin: z.number().meta({ description: '[min] from one copy to the next' }),
    quietTime: z
      .string()
      .meta({ description: 'the shop’s local time of day at which a daily copy is made, such as 02:30' }),
    keepCount: z.int().meta({ description: 'older copies beyond this many go when a new one is good' }),
    making: z.boolean(),
    nextAt: instantText.meta({ description: 'in the past when one was missed: then it is made soon' }),
    failure: z
      .object({ at: instantText, code: z.enum(COPY_TROUBLES), detail: z.string() })
      .nullable()
      .meta({ description: 'why the last attempt brought no copy; null when it did' }),
    copies: z.array(keptCopySchema).meta({ description: 'newest first' }),
  })
  .meta({ id: 'Copies' });

export type CopyTrouble = (typeof COPY_TROUBLES)[number];
export type KeptCopyWire = z.infer<typeof keptCopySchema>;
export type CopiesWire = z.infer<typeof copiesSchema>;
