// Everything else that can be done to a batch: dated back, moved, lit, taken back, scrapped, covered by the next layer.
import { useState } from 'preact/hooks';
import type { BatchWire } from '../../../server/contract/index.ts';
import { actOnBatch, undoAct } from '../../actions/batchActs.ts';
import { closeDialog, openDialog } from '../../actions/deviceActs.ts';
import { formatClock } from '../../format/clock.ts';
import { lastActName } from '../../format/quickerText.ts';
import { $place, $slips } from '../../state/computed.ts';
import { canUndo } from '../../state/justClosed.ts';
import { nextLayerOf } from '../../state/mixDraft.ts';
import { $live, $troubles, $words } from '../../state/sources.ts';
import { SlipActs } from '../bench/SlipActs.tsx';
import { ChipGroup } from '../ChipGroup.tsx';
import { Sheet } from '../Sheet.tsx';
import { useClocked } from '../useClocked.ts';
import { AirSince } from './AirSince.tsx';
import { LampForm } from './LampForm.tsx';
import { MoveForm } from './MoveForm.tsx';
import { WarmerBay } from './WarmerBay.tsx';
import './more.css';

/** How far back an act is dated by one tap [min]. */
const AGO_CHOICES_MIN = [0, 1, 2, 5] as const;

/** The sheet behind More; gone as soon as its batch is closed. */
export function MoreSheet({ batchId }: { readonly batchId: string }) {
  const batch = $slips.value.find(({ id }) => id === batchId);
  const [agoMin, setAgoMin] = useState(0);
  const { more } = $words.value;
  if (batch === undefined) return null;
  const trouble = $troubles.value[batch.id];
  return (
    <Sheet title={batch.panel} isWide>
      {trouble === undefined ? null : (
        <p class="slip-trouble" role="status">
          {trouble.text}
        </p>
      )}
      <ChipGroup
        label={more.done}
        chosen={agoMin}
        chips={AGO_CHOICES_MIN.map((value) => ({ value, name: more.ago(value) }))}
        onChoose={setAgoMin}
      />
      <SlipActs batch={batch} agoMin={agoMin} />
      {isCuring(batch) ? (
        <>
          <MoveForm batch={batch} agoMin={agoMin} />
          <LampForm batch={batch} agoMin={agoMin} />
          <WarmerBay batch={batch} />
        </>
      ) : null}
      <AirSince batch={batch} />
      <NextLayer batch={batch} />
      <UndoLast batch={batch} />
      <Scrap batch={batch} agoMin={agoMin} />
    </Sheet>
  );
}

/** Air and lamp matter until the batch powders. */
function isCuring({ stage }: BatchWire): boolean {
  return stage === 'wet' || stage === 'kicked' || stage === 'test';
}

function NextLayer({ batch }: { readonly batch: BatchWire }) {
  const { more } = $words.value;
  const preset = nextLayerOf(batch, $live.value?.cards ?? []);
  return (
    <section class="more-part">
      <h3>{more.nextLayer}</h3>
      <p>{more.nextLayerHint}</p>
      <button
        type="button"
        class="second"
        onClick={() => openDialog({ kind: 'mix', preset, variant: 'layer' })}
      >
        {more.nextLayer}
      </button>
    </section>
  );
}

function UndoLast({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const { lastAct } = batch;
  const isYoung = useClocked(batch, canUndo);
  if (lastAct === null || !isYoung) return <p class="more-part">{words.more.undoNone}</p>;
  const name = lastActName(batch, words);
  const { factSequence, recordedAt } = lastAct;
  return (
    <section class="more-part">
      <button
        type="button"
        class="second"
        onClick={() => undoAct({ batchId: batch.id, factSequence, panel: batch.panel })}
      >
        {words.more.undoLast(name, formatClock(Date.parse(recordedAt), $place.value))}
      </button>
    </section>
  );
}

function Scrap({ batch, agoMin }: { readonly batch: BatchWire; readonly agoMin: number }) {
  const { more } = $words.value;
  const [isAsking, setIsAsking] = useState(false);
  const scrap = (): void => {
    closeDialog();
    actOnBatch(batch, { type: 'scrap' }, agoMin);
  };
  return (
    <section class="more-part">
      {isAsking ? (
        <div role="group" aria-label={more.scrap}>
          <p>{more.scrapSure}</p>
          <div class="row">
            <button type="button" class="stop" onClick={scrap}>
              {more.scrapYes}
            </button>
            <button type="button" class="second" onClick={() => setIsAsking(false)}>
              {more.keepIt}
            </button>
          </div>
        </div>
      ) : (
        <button type="button" class="second" onClick={() => setIsAsking(true)}>
          {more.scrap}
        </button>
      )}
    </section>
  );
}
