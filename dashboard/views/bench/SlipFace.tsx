// The face of a slip: the film itself, lightening as it cures, with the countdown on it and the window along its base.
import type { BatchWire } from '../../../server/contract/index.ts';
import { makeWindowBand, type WindowTimes } from '../../charts/windowBand.ts';
import { alertName } from '../../format/alertText.ts';
import { type ClockSpan, formatClock, formatClockSpan } from '../../format/clock.ts';
import { formatCountdown } from '../../format/countdown.ts';
import { epochAt, isSoon, phaseOf, type Phase } from '../../format/phase.ts';
import { acknowledgeAlert } from '../../actions/batchActs.ts';
import { $alerts } from '../../state/alerts.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { SmallSign, StageShape } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';
import { WindowBar } from './WindowBar.tsx';

/** Longer figures are set a little smaller, so that the likely time keeps its place beside them. */
const SHORT_COUNT = 4;
const WINDOW_STEPS_COUNT = 250;

/** The face with stage, countdown and window. */
export function SlipFace({ batch }: { readonly batch: BatchWire }) {
  const words = $words.value;
  const phase = useClocked(batch, phaseOf);
  const soon = useClocked(batch, isSoon);
  const times = useClocked(batch, windowTimesOf);
  const band = times === null ? null : makeWindowBand(times);
  return (
    <div class="face">
      <div class="face-top">
        <p class="face-stage">
          <StageShape stage={batch.stage} />
          {words.stage[batch.stage]}
        </p>
        {soon ? <p class="face-soon">{words.slip.soon}</p> : null}
        <FaceAlert batchId={batch.id} />
      </div>
      <div class="face-main">
        <CountdownText phase={phase} />
        {times === null || band === null ? null : (
          <p class="face-likely">
            {words.window.likely}{' '}
            <b>{formatClockSpan({ fromAt: times.p10At, untilAt: times.p90At }, $place.value)}</b>
          </p>
        )}
      </div>
      {phase.kind === 'noTime' && phase.why !== 'no-air' ? <p>{words.noTime[phase.why]}</p> : null}
      {times === null || band === null ? null : <WindowBar band={band} times={times} />}
    </div>
  );
}

function FaceAlert({ batchId }: { readonly batchId: string }) {
  const words = $words.value;
  const alert = $alerts.value.find((entry) => entry.batchId === batchId);
  if (alert === undefined) return null;
  return (
    <p class="face-alert">
      <SmallSign name="bell" />
      <span>{words.alert.since(formatClock(Date.parse(alert.raisedAt), $place.value))}</span>
      <button
        type="button"
        class="quiet"
        aria-label={words.alert.seenFor(alertName(alert, words))}
        onClick={() => acknowledgeAlert(alert)}
      >
        {words.act.seen}
      </button>
    </p>
  );
}

function CountdownText({ phase }: { readonly phase: Phase }) {
  const { lead, figure, unit, tail } = formatCountdown(phase, $words.value);
  const isWord = unit === '' && !/^\d/.test(figure);
  return (
    <p class="countdown" role="timer" data-word={isWord} data-long={figure.length > SHORT_COUNT}>
      {lead === '' ? null : <span class="countdown-lead">{lead} </span>}
      <span class="countdown-figure">{figure}</span>
      {unit === '' ? null : <span class="countdown-unit"> {unit}</span>}
      {tail === '' ? null : <span class="countdown-tail"> {tail}</span>}
    </p>
  );
}

function windowTimesOf(batch: BatchWire, nowAt: number): WindowTimes | null {
  if (batch.stage === 'sanding') return null;
  const { estimate } = batch;
  const p10At = epochAt(estimate?.test.p10At);
  const p50At = epochAt(estimate?.test.p50At);
  const p90At = epochAt(estimate?.test.p90At);
  if (p10At === null || p50At === null || p90At === null) return null;
  const mixedAt = Date.parse(batch.mixedAt);
  return {
    mixedAt,
    p10At,
    p50At,
    p90At,
    nowAt: nowOnWindow(nowAt, { fromAt: mixedAt, untilAt: p90At }),
    kickedAt: epochAt(estimate?.kickedAt),
    buildAt: epochAt(estimate?.buildP50At),
    edgeAt: epochAt(estimate?.edgeP50At),
  };
}

/** Now as finely as a window can show it: the mark moves by about a pixel, and not all windows are drawn in one frame. */
function nowOnWindow(nowAt: number, { fromAt, untilAt }: ClockSpan): number {
  const stepMs = Math.max(1, (untilAt - fromAt) / WINDOW_STEPS_COUNT);
  return fromAt + Math.floor((nowAt - fromAt) / stepMs) * stepMs;
}
