// The name of a kept act, as its button had it.
import type { Words } from '../format/words.en.ts';
import type { Kept } from './kept.ts';

/** The entry's act as its button names it. */
export function actNameOf({ body }: Kept, words: Words): string {
  if (body.kind === 'start') return words.act.startBatch;
  if (body.kind === 'acknowledgement') return words.act.seen;
  return body.command.type === 'recordCheck' ? words.act[body.command.outcome] : words.act[body.command.type];
}
