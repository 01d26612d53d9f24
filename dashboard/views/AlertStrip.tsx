// Alerts above the stack: told politely to readers, each taken away by "Seen".
import type { AlertWire } from '../../server/contract/index.ts';
import { acknowledgeAlert } from '../actions/batchActs.ts';
import { alertName, alertText } from '../format/alertText.ts';
import { formatClock } from '../format/clock.ts';
import { $alerts, $place } from '../state/computed.ts';
import { $words } from '../state/sources.ts';
import { StageShape } from './shapes.tsx';

/** So many alerts are shown in full; the rest is counted. */
const SHOWN_COUNT = 3;

/** The strip; its live region is always there, so that readers hear what enters it. */
export function AlertStrip() {
  const { alert } = $words.value;
  const shown = $alerts.value.slice(0, SHOWN_COUNT);
  const moreCount = $alerts.value.length - shown.length;
  return (
    <section class="alerts" aria-label={alert.title} aria-live="polite">
      {shown.map((entry) => (
        <AlertLine key={entry.id} alert={entry} />
      ))}
      {moreCount > 0 ? <p class="alerts-more">{alert.more(moreCount)}</p> : null}
    </section>
  );
}

function AlertLine({ alert }: { readonly alert: AlertWire }) {
  const words = $words.value;
  return (
    <div class="alert" data-kind={alert.kind}>
      <StageShape stage={alert.kind === 'spreadBy' ? 'wet' : 'test'} />
      <a class="alert-text" href={`#slip-${alert.subjects[0]?.batchId ?? ''}`}>
        <b>{alertText(alert, words)}</b>{' '}
        <span class="alert-since">
          {words.alert.since(formatClock(Date.parse(alert.raisedAt), $place.value))}
        </span>
      </a>
      <button
        type="button"
        class="alert-seen"
        aria-label={words.alert.seenFor(alertName(alert, words))}
        onClick={() => acknowledgeAlert(alert)}
      >
        {words.act.seen}
      </button>
    </div>
  );
}
