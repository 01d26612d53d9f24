// What if: the estimate of a mix that is not started, or of a batch in another bay, lamp or air.
import type { BatchWire, PreviewBatch } from '../../server/contract/index.ts';
import { readShopNow } from '../feed/clock.ts';
import { readPreview } from '../feed/preview.ts';
import type { Previewed } from '../state/previewed.ts';
import { mistakesOf, startBodyOf, type MixDraft } from '../state/mixDraft.ts';

/** What is changed in a preview; everything else stays as it is. */
export type PreviewChange = Omit<PreviewBatch, 'batchId'>;

/** What the draft would be estimated at, were it started now; null when a number is half typed. */
export async function previewMix(draft: MixDraft, signal: AbortSignal): Promise<Previewed | null> {
  if (mistakesOf(draft).some(({ kind }) => kind === 'notNumber')) return null;
  const panel = draft.panel.trim() === '' ? '-' : draft.panel;
  return readPreview(startBodyOf({ ...draft, panel }, readShopNow()), signal);
}

/** What an open batch would be estimated at with a change from now on. */
export async function previewChange(
  { batch, change }: { readonly batch: BatchWire; readonly change: PreviewChange },
  signal: AbortSignal,
): Promise<Previewed | null> {
  return readPreview({ batchId: batch.id, ...change }, signal);
}
