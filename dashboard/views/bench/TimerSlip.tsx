// The slip of a plain timer: dashed and without a film, since nothing in it is computed.
import { extendTimer, stopTimer } from '../../actions/timerActs.ts';
import { formatClock } from '../../format/clock.ts';
import { formatPlain } from '../../format/numbers.ts';
import { MS_PER_MIN } from '../../format/phase.ts';
import { formatTimer, passedFraction } from '../../format/timerText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import type { PlainTimer } from '../../state/timers.ts';
import { SmallSign } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';

/** The slip of a plain timer. */
export function TimerSlip({ timer }: { readonly timer: PlainTimer }) {
  const { timer: words } = $words.value;
  const isUp = useClocked(timer, isOver);
  const titleId = `timer-title-${timer.id}`;
  const wholeMin = Math.max(1, Math.round((timer.endsAt - timer.startedAt) / MS_PER_MIN));
  const minutes = formatPlain(wholeMin, $place.value.locale);
  return (
    <article
      class="slip plain-timer"
      data-tone={isUp ? 'soon' : 'idle'}
      aria-labelledby={titleId}
      tabIndex={-1}
    >
      <header class="slip-head">
        <h2 class="slip-panel" id={titleId}>
          {timer.name}
        </h2>
        <p class="slip-made">{words.of(minutes, formatClock(timer.endsAt, $place.value))}</p>
      </header>
      <div class="face">
        <p class="face-stage">
          <SmallSign name="timer" />
          {words.badge}
        </p>
        <TimerCount timer={timer} />
        <div class="timer-rule" aria-hidden="true">
          <span class="timer-passed" style={{ width: useClocked(timer, passedText) }} />
        </div>
      </div>
      <div class="slip-body">
        <p class="slip-kept" role="status">
          {isUp ? words.upText(timer.name) : words.where}
        </p>
        <TimerActs timer={timer} isUp={isUp} />
      </div>
    </article>
  );
}

function TimerCount({ timer }: { readonly timer: PlainTimer }) {
  const words = $words.value;
  const { lead, figure, tail } = useClocked(timer, (span, nowAt) => formatTimer(span, { words, nowAt }));
  return (
    <p class="countdown" role="timer" data-word={tail !== ''} data-long={figure.length > SHORT_COUNT}>
      {lead === '' ? null : <span class="countdown-lead">{lead} </span>}
      <span class="countdown-figure">{figure}</span>
      {tail === '' ? null : <span class="countdown-tail"> {tail}</span>}
    </p>
  );
}

function TimerActs({ timer, isUp }: { readonly timer: PlainTimer; readonly isUp: boolean }) {
  const { timer: words } = $words.value;
  return (
    <div class="acts">
      <button type="button" class={`${isUp ? 'first' : 'second'} big grow`} onClick={() => stopTimer(timer)}>
        {isUp ? words.done : words.stop}
      </button>
      <button type="button" class="second more" onClick={() => extendTimer(timer)}>
        {words.more}
      </button>
    </div>
  );
}

function isOver({ endsAt }: PlainTimer, nowAt: number): boolean {
  return endsAt <= nowAt;
}

function passedText(timer: PlainTimer, nowAt: number): string {
  return `${(passedFraction(timer, nowAt) * 100).toFixed(1)}%`;
}

const SHORT_COUNT = 4;
