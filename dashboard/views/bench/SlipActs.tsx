// The acts of a slip: one big button for the likely next one; a check answers gums or powders, powders asks one thing.
import { useRef, useState } from 'preact/hooks';
import type { BatchWire } from '../../../server/contract/index.ts';
import { actOnBatch, type Act } from '../../actions/batchActs.ts';
import { openDialog } from '../../actions/deviceActs.ts';
import { $busyBatchIds } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

export interface SlipActsProps {
  readonly batch: BatchWire;
  readonly hasMore?: boolean;
  readonly agoMin?: number;
}

type Step = 'likely' | 'pair' | 'firstTry';

/** The buttons of a batch in its stage. */
export function SlipActs({ batch, hasMore = false, agoMin = 0 }: SlipActsProps) {
  const [asked, setAsked] = useState<{ readonly step: Step; readonly stage: string }>({
    step: 'likely',
    stage: batch.stage,
  });
  const step = stepOf(asked.stage === batch.stage ? asked.step : 'likely', batch);
  const root = useRef<HTMLDivElement>(null);
  const ask = (next: Step): void => {
    // The tapped button goes away with its step: whoever works by keys stays on the slip.
    root.current?.closest<HTMLElement>('article, dialog')?.focus({ preventScroll: true });
    setAsked({ step: next, stage: batch.stage });
  };
  const send = (act: Act): void => {
    ask('likely');
    actOnBatch(batch, act, agoMin);
  };
  const isBusy = $busyBatchIds.value.has(batch.id);
  return (
    <div class="acts" data-step={step} aria-busy={isBusy} key={step} ref={root}>
      {step === 'firstTry' ? (
        <FirstTry
          onAnswer={(firstTry) => send({ type: 'recordCheck', outcome: 'powders', firstTry })}
          onBack={() => ask('likely')}
        />
      ) : step === 'pair' ? (
        <Pair
          onGums={() => send({ type: 'recordCheck', outcome: 'gums' })}
          onPowders={() => ask('firstTry')}
        />
      ) : (
        <Likely batch={batch} onAct={send} onTest={() => ask('pair')} />
      )}
      {hasMore && step !== 'firstTry' ? <More batchId={batch.id} /> : null}
    </div>
  );
}

function stepOf(asked: Step, batch: BatchWire): Step {
  return asked === 'likely' && batch.stage === 'test' ? 'pair' : asked;
}

interface LikelyProps {
  readonly batch: BatchWire;
  readonly onAct: (act: Act) => void;
  readonly onTest: () => void;
}

function Likely({ batch, onAct, onTest }: LikelyProps) {
  const { act } = $words.value;
  if (batch.stage === 'wet' && batch.spreadAt === null) {
    return <Big text={act.markSpread} onTap={() => onAct({ type: 'markSpread' })} />;
  }
  if (batch.stage === 'kicked') return <Big text={act.testIt} onTap={onTest} />;
  if (batch.stage === 'sanding') {
    return <Big text={act.finishSanding} onTap={() => onAct({ type: 'finishSanding' })} />;
  }
  return null;
}

function Big({ text, onTap }: { readonly text: string; readonly onTap: () => void }) {
  return (
    <button type="button" class="first big grow" onClick={onTap}>
      {text}
    </button>
  );
}

function Pair({ onGums, onPowders }: { readonly onGums: () => void; readonly onPowders: () => void }) {
  const { act } = $words.value;
  return (
    <div class="pair">
      <button type="button" class="second huge" onClick={onGums} aria-label={act.gums}>
        {act.gums}
        <small>{act.gumsHint}</small>
      </button>
      <button type="button" class="go huge" onClick={onPowders} aria-label={act.powders}>
        {act.powders}
        <small>{act.powdersHint}</small>
      </button>
    </div>
  );
}

interface FirstTryProps {
  readonly onAnswer: (firstTry: boolean) => void;
  readonly onBack: () => void;
}

function FirstTry({ onAnswer, onBack }: FirstTryProps) {
  const { act } = $words.value;
  return (
    <div class="first-try" role="group" aria-label={act.firstTry}>
      <p class="first-try-ask">{act.firstTry}</p>
      <p class="first-try-hint">{act.firstTryHint}</p>
      <div class="pair">
        <button type="button" class="second huge" onClick={() => onAnswer(true)}>
          {act.yes}
        </button>
        <button type="button" class="second huge" onClick={() => onAnswer(false)}>
          {act.no}
        </button>
      </div>
      <button type="button" class="quiet" onClick={onBack}>
        {act.back}
      </button>
    </div>
  );
}

function More({ batchId }: { readonly batchId: string }) {
  return (
    <button type="button" class="second more" onClick={() => openDialog({ kind: 'more', batchId })}>
      {$words.value.act.more}
    </button>
  );
}
