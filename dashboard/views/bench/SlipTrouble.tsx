// What went wrong with an act on a batch, or what of it is still kept here; beside the buttons that it came from.
import type { BatchWire } from '../../../server/contract/index.ts';
import { formatClock } from '../../format/clock.ts';
import { actNameOf } from '../../state/actName.ts';
import { $place } from '../../state/computed.ts';
import { $connection, $kept, $troubles, $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';

/** The trouble of a batch and its kept acts; the live region is always there. */
export function SlipTrouble({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const kept = $kept.value.filter(({ body }) => body.kind === 'command' && body.batchId === batch.id);
  const trouble = $troubles.value[batch.id];
  return (
    <div role="status">
      {trouble === undefined ? null : (
        <p class="slip-trouble">
          <SmallSign name="warn" />
          <span>{trouble.text}</span>
        </p>
      )}
      {$connection.value === 'live'
        ? null
        : kept.map((entry) => (
            <p class="slip-kept" key={entry.key}>
              {words.slip.kept(actNameOf(entry, words), formatClock(entry.tappedAt, $place.value))}
            </p>
          ))}
    </div>
  );
}
