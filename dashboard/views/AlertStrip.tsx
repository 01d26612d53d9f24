// Alerts above a screen: calls first, then warnings; many of a kind are one line that opens; each is taken away by "Seen".
import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { AlertWire } from '../../server/contract/index.ts';
import { acknowledgeAlert } from '../actions/batchActs.ts';
import { openBench, setDevice } from '../actions/deviceActs.ts';
import { alertName, subjectText } from '../format/alertText.ts';
import { $mayWork } from '../state/access.ts';
import { $alerts, $outsideCount } from '../state/alerts.ts';
import { isCall } from '../state/alertsFor.ts';
import { namingOf } from '../state/computed.ts';
import { screenOf } from '../state/homePath.ts';
import { $path, $words } from '../state/sources.ts';
import { AlertNews, AlertSentence, AlertSign } from './AlertLine.tsx';

/** So many alerts are shown until somebody asks for all. */
const SHOWN_COUNT = 3;

/** The strip; nothing is to be seen of it while there is no alert. */
export function AlertStrip() {
  const { alert } = $words.value;
  const [isWhole, setIsWhole] = useState(false);
  const alerts = $alerts.value;
  const shown = isWhole ? alerts : alerts.slice(0, SHOWN_COUNT);
  return (
    <section class="alerts" aria-label={alert.title}>
      <AlertNews />
      {shown.length === 0 ? null : (
        <ul class="alert-lines">
          {shown.map((entry) => (
            <AlertLine key={entry.id} alert={entry} />
          ))}
        </ul>
      )}
      {alerts.length > SHOWN_COUNT ? (
        <button
          type="button"
          class="link alerts-more"
          aria-expanded={isWhole}
          onClick={() => setIsWhole(!isWhole)}
        >
          {isWhole ? alert.fewer : alert.more(alerts.length - SHOWN_COUNT)}
        </button>
      ) : null}
      <Outside />
    </section>
  );
}

function AlertLine({ alert }: { readonly alert: AlertWire }) {
  const words = $words.value;
  return (
    <li class="alert" data-kind={alert.kind} data-call={isCall(alert.kind)}>
      <AlertSign kind={alert.kind} />
      {alert.folded ? <Many alert={alert} /> : <One alert={alert} />}
      {$mayWork.value ? (
        <button
          type="button"
          class="alert-seen"
          aria-label={words.alert.seenFor(alertName(alert, words))}
          onClick={(event) => {
            focusNext(event.currentTarget);
            acknowledgeAlert(alert);
          }}
        >
          {words.act.seen}
        </button>
      ) : null}
    </li>
  );
}

function One({ alert }: { readonly alert: AlertWire }) {
  return (
    <ToBatch class="alert-text" batchId={alert.batchId}>
      <AlertSentence alert={alert} />
    </ToBatch>
  );
}

/** One line for many: it opens to what it is about. */
function Many({ alert }: { readonly alert: AlertWire }) {
  const [isOpen, setIsOpen] = useState(false);
  const listId = useId();
  const { bayName } = namingOf('');
  return (
    <div class="alert-many">
      <button
        type="button"
        class="alert-text"
        aria-expanded={isOpen}
        aria-controls={listId}
        onClick={() => setIsOpen(!isOpen)}
      >
        <AlertSentence alert={alert} />
      </button>
      <ul id={listId} class="alert-subjects" hidden={!isOpen}>
        {alert.subjects.map((one) => (
          <li key={one.batchId ?? one.sensorId}>
            <ToBatch class="alert-subject" batchId={one.batchId}>
              {subjectText(one, bayName)}
            </ToBatch>
          </li>
        ))}
      </ul>
    </div>
  );
}

interface ToBatchProps {
  readonly class: string;
  readonly batchId: string | null;
  readonly children: ComponentChildren;
}

/** A way to the slip or the row of a batch; screens that have none lead to Bench. */
function ToBatch({ class: name, batchId, children }: ToBatchProps) {
  if (batchId === null) return <span class={name}>{children}</span>;
  const screen = screenOf($path.value) ?? '/bench';
  const isHere = screen === '/bench' || screen === '/floor';
  return isHere ? (
    <a class={name} href={`#slip-${batchId}`}>
      {children}
    </a>
  ) : (
    <a class={name} href="/bench" onClick={openBench}>
      {children}
    </a>
  );
}

/** What Floor's filters leave out is not lost. */
function Outside() {
  const { alert, floor } = $words.value;
  const count = $outsideCount.value;
  if (count === 0) return null;
  return (
    <p class="alerts-outside">
      {alert.outside(count)}
      <button type="button" class="link" onClick={() => setDevice({ floorBayId: null, floorPerson: null })}>
        {floor.showAll}
      </button>
    </p>
  );
}

/** The line goes with its button: who works by keyboard goes on at the next one. */
function focusNext(button: HTMLElement): void {
  const line = button.closest('li');
  const beside = line?.nextElementSibling ?? line?.previousElementSibling;
  const next =
    beside?.querySelector<HTMLElement>('.alert-seen') ?? document.querySelector<HTMLElement>('#main');
  next?.focus({ preventScroll: true });
}
