// A plain timer: what for, how long. Said on it: nothing is computed, and it lives on this device alone.
import { useState } from 'preact/hooks';
import { startTimer } from '../../actions/timerActs.ts';
import { formatPlain } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { $place } from '../../state/computed.ts';
import { OWN_REASONS, rejectionText } from '../../state/rejection.ts';
import { $words } from '../../state/sources.ts';
import { TIMER_MIN, timerMistakesOf, type TimerDraft, type TimerMistake } from '../../state/timers.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { TextField } from '../Field.tsx';
import { NumberField } from '../NumberField.tsx';
import { Sheet } from '../Sheet.tsx';

const CHIPS_MIN = [5, 10, 15, 20, 30, 60] as const;
const DEFAULT_DRAFT: TimerDraft = { name: '', minutes: '15' };

/** The sheet of a new plain timer. */
export function TimerSheet() {
  const { timer } = $words.value;
  const [draft, setDraft] = useState(DEFAULT_DRAFT);
  const [isTried, setIsTried] = useState(false);
  const mistakes = isTried ? timerMistakesOf(draft) : [];
  const part: TimerPartProps = {
    draft,
    mistakes,
    onChange: (changes) => setDraft((held) => ({ ...held, ...changes })),
  };
  const start = (event: Event): void => {
    event.preventDefault();
    if (!startTimer(draft)) setIsTried(true);
  };
  return (
    <Sheet title={timer.title} foot={<TimerFoot isMistaken={mistakes.length > 0} />}>
      <form id="timer-form" class="timer-form" noValidate onSubmit={start}>
        <p>{timer.intro}</p>
        <NameChoice {...part} />
        <MinutesChoice {...part} />
        <p class="timer-where">{timer.where}</p>
      </form>
    </Sheet>
  );
}

interface TimerPartProps {
  readonly draft: TimerDraft;
  readonly mistakes: readonly TimerMistake[];
  readonly onChange: (changes: Partial<TimerDraft>) => void;
}

function NameChoice({ draft, mistakes, onChange }: TimerPartProps) {
  const { timer } = $words.value;
  const [isTyped, setIsTyped] = useState(false);
  const choose = (name: string, typed: boolean): void => {
    setIsTyped(typed);
    onChange({ name });
  };
  const isMissing = mistakes.some(({ path }) => path === 'name');
  return (
    <>
      <ChipGroup
        label={timer.what}
        chosen={draft.name}
        error={isMissing ? timer.nameMissing : null}
        chips={timer.kinds.map((name) => ({ value: name, name }))}
        onChoose={(name) => choose(name, false)}
      />
      <TextField
        label={timer.other}
        value={isTyped ? draft.name : ''}
        onInput={(name) => choose(name, true)}
      />
    </>
  );
}

function MinutesChoice({ draft, mistakes, onChange }: TimerPartProps) {
  const words = $words.value;
  const { timer, unit } = words;
  const { locale } = $place.value;
  const typedMin = numberOf(draft.minutes);
  const mistake = mistakes.find(({ path }) => path === 'forMin');
  return (
    <>
      <ChipGroup<number>
        label={timer.minutes}
        layout="row"
        chosen={CHIPS_MIN.find((chipMin) => chipMin === typedMin) ?? null}
        chips={CHIPS_MIN.map((chipMin) => ({
          value: chipMin,
          name: `${formatPlain(chipMin, locale)}\u00a0${unit.min}`,
        }))}
        onChoose={(chipMin) => onChange({ minutes: String(chipMin) })}
      />
      <NumberField
        label={timer.otherMinutes}
        stored={draft.minutes}
        error={mistake === undefined ? null : minutesError(mistake.kind)}
        onStore={(minutes) => onChange({ minutes })}
      />
    </>
  );
}

function minutesError(kind: TimerMistake['kind']): string {
  const words = $words.value;
  const place = $place.value;
  if (kind === 'missing' || kind === 'notNumber') {
    return rejectionText({ path: 'forMin', reason: OWN_REASONS[kind], allowed: '' }, { words, place });
  }
  const most = `${formatPlain(TIMER_MIN.max, place.locale)} ${words.unit.min}`;
  const bounds = words.rejection.between(formatPlain(TIMER_MIN.min, place.locale), most);
  return words.rejection.line(words.rejection[kind], bounds);
}

function TimerFoot({ isMistaken }: { readonly isMistaken: boolean }) {
  const { timer } = $words.value;
  return (
    <>
      <div role="status">{isMistaken ? <p class="field-error">{timer.lookAgain}</p> : null}</div>
      <button type="submit" form="timer-form" class="first huge">
        {timer.start}
      </button>
    </>
  );
}
