// The parts of an alert's line that every screen shares: its sign, its sentence, and what readers hear of new ones.
import type { AlertKind, AlertWire } from '../../server/contract/index.ts';
import { alertMoved, alertText } from '../format/alertText.ts';
import { formatClock } from '../format/clock.ts';
import { $alerts, $news } from '../state/alerts.ts';
import { isCall } from '../state/alertsFor.ts';
import { $place } from '../state/computed.ts';
import { $words } from '../state/sources.ts';
import { SmallSign, StageShape } from './shapes.tsx';

/** The shape of the stage that a call is about, or the sign of a warning. */
export function AlertSign({ kind }: { readonly kind: AlertKind }) {
  switch (kind) {
    case 'spreadBy':
      return <StageShape stage="wet" />;
    case 'test':
    case 'waiting':
      return <StageShape stage="test" />;
    case 'sensorBack':
      return <StageShape stage="sanded" />;
    case 'sensorQuiet':
      return <SmallSign name="off" />;
    case 'tooHot':
      return <SmallSign name="lamp" />;
    case 'slowing':
    case 'condensation':
    case 'tooCold':
      return <SmallSign name="warn" />;
  }
}

/** The sentence, and since when or how far. */
export function AlertSentence({ alert }: { readonly alert: AlertWire }) {
  const words = $words.value;
  const moved = alertMoved(alert, { words, place: $place.value });
  return (
    <>
      <b>{alertText(alert, words)}</b>{' '}
      <span class={moved === null ? 'alert-since' : 'alert-moved'}>
        {moved ?? words.alert.since(formatClock(Date.parse(alert.raisedAt), $place.value))}
      </span>
    </>
  );
}

/** Reads new alerts out once, calls at once; the regions are always there, so that readers hear what enters them. */
export function AlertNews() {
  const news = $alerts.value.filter(({ id }) => $news.value.includes(id));
  return (
    <>
      <div class="hidden" role="alert">
        {news.map((alert) => (isCall(alert.kind) ? <Spoken key={alert.id} alert={alert} /> : null))}
      </div>
      <div class="hidden" role="status">
        {news.map((alert) => (isCall(alert.kind) ? null : <Spoken key={alert.id} alert={alert} />))}
      </div>
    </>
  );
}

function Spoken({ alert }: { readonly alert: AlertWire }) {
  return <p>{alertText(alert, $words.value)}</p>;
}
