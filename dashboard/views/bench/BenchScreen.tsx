// Bench: a stack of slips, the next act on top, and Mix within reach of a thumb, or at the head of the stack where there is a mouse.
import { useEffect, useState } from 'preact/hooks';
import { openDialog, setDevice } from '../../actions/deviceActs.ts';
import { $closedSlips, $keptStarts, $openCount, $stack } from '../../state/computed.ts';
import { $device } from '../../state/device.ts';
import { $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { SmallSign } from '../shapes.tsx';
import { ClosedSlips } from './ClosedSlips.tsx';
import { DarkNote } from './DarkNote.tsx';
import { EmptyBench } from './EmptyBench.tsx';
import { KeptSlip } from './KeptSlip.tsx';
import { Slip } from './Slip.tsx';
import { TimerSlip } from './TimerSlip.tsx';
import './slip.css';
import './beside.css';
import './window.css';
import './acts.css';

const PART_COUNT = 5;

/** The Bench screen. */
export function BenchScreen() {
  const stack = $stack.value;
  const keptStarts = $keptStarts.value;
  return (
    <>
      <h1 class="hidden">{$words.value.screen.bench}</h1>
      <div class="bench-bar">
        <OpenCount />
        <WhoseChoice />
        <Dock />
      </div>
      <DarkNote />
      {stack.length === 0 && keptStarts.length === 0 && $closedSlips.value.length === 0 ? (
        <EmptyBench isFiltered={$openCount.value > 0} />
      ) : null}
      <div class="stack" style={{ '--slips': keptStarts.length + stack.length }}>
        {keptStarts.map((entry) => (
          <KeptSlip key={entry.key} entry={entry} />
        ))}
        {stack
          .slice(0, useGrowingCount(stack.length))
          .map((entry) =>
            entry.kind === 'batch' ? (
              <Slip key={entry.batch.id} batch={entry.batch} />
            ) : (
              <TimerSlip key={entry.timer.id} timer={entry.timer} />
            ),
          )}
      </div>
      <ClosedSlips />
    </>
  );
}

/** A long stack is drawn from the top in parts, so that a slow phone answers a tap in between. */
function useGrowingCount(wholeCount: number): number {
  const [count, setCount] = useState(PART_COUNT);
  useEffect(() => {
    if (count < wholeCount) setCount(count + PART_COUNT);
  }, [count, wholeCount]);
  return count;
}

function OpenCount() {
  const count = $openCount.value;
  return count === 0 ? null : <p class="open-count">{$words.value.bench.openCount(count)}</p>;
}

function WhoseChoice() {
  const { bench } = $words.value;
  const { person, isOnlyMine } = $device.value;
  if (person === null || $openCount.value === 0) return null;
  return (
    <div class="whose">
      <ChipGroup
        label={bench.whose}
        chosen={isOnlyMine ? 'mine' : 'everyone'}
        chips={[
          { value: 'mine', name: bench.mine },
          { value: 'everyone', name: bench.everyone },
        ]}
        onChoose={(chosen) => setDevice({ isOnlyMine: chosen === 'mine' })}
      />
    </div>
  );
}

function Dock() {
  const { mix, timer } = $words.value;
  const { lastMix } = $device.value;
  return (
    <div class="dock">
      <button
        type="button"
        class="second big dock-timer"
        aria-label={timer.title}
        onClick={() => openDialog({ kind: 'timer' })}
      >
        <SmallSign name="timer" />
      </button>
      {lastMix === null ? null : (
        <button
          type="button"
          class="second big"
          onClick={() => openDialog({ kind: 'mix', preset: {}, variant: 'again' })}
        >
          {mix.again}
        </button>
      )}
      <button
        type="button"
        class="first big"
        onClick={() => openDialog({ kind: 'mix', preset: {}, variant: 'full' })}
      >
        {mix.open}
      </button>
    </div>
  );
}
