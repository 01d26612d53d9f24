// After a "no" to an act: reads the batch as it is now, and says beside the button who did what to it meanwhile.
import { batch } from '@preact/signals';
import type { BatchWire } from '../../server/contract/index.ts';
import { formatQuicker } from '../format/quickerText.ts';
import { actNameOf } from '../state/actName.ts';
import { mergeBatch } from '../state/applyLiveMessage.ts';
import { $place } from '../state/computed.ts';
import type { Kept } from '../state/kept.ts';
import { $live, $troubles, $words, setTrouble } from '../state/sources.ts';
import { getJson } from './http.ts';

/** Puts the sentence in place of the bare refusal, unless something newer stands there by then. */
export async function tellWhoWasQuicker(entry: Kept): Promise<void> {
  const { body } = entry;
  if (body.kind !== 'command' || body.seenSequence === undefined) return;
  const { batchId, command, seenSequence } = body;
  const told = $troubles.peek()[batchId];
  const answer = await getJson(`/batches/${encodeURIComponent(batchId)}`);
  if (answer.kind !== 'answered' || !isThatBatch(answer.body, batchId)) return;
  const now = answer.body;
  const words = $words.peek();
  const text = formatQuicker(
    {
      batch: now,
      seenSequence,
      seenVersion: command.expectedVersion ?? null,
      yours: actNameOf(entry, words),
    },
    { words, place: $place.peek() },
  );
  batch(() => {
    const held = $live.peek();
    if (held !== null) $live.value = mergeBatch(held, now);
    if (text !== null && $troubles.peek()[batchId] === told) setTrouble(batchId, { text, errors: [] });
  });
}

function isThatBatch(value: unknown, batchId: string): value is BatchWire {
  const candidate = value as Partial<BatchWire> | null;
  return candidate?.id === batchId && typeof candidate.version === 'number';
}
