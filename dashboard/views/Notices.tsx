// What everybody must know before reading the screen: simulated, no connection, trouble in the shop's computer.
import { dismissTrouble, openDialog, playAlarm } from '../actions/deviceActs.ts';
import { formatDegraded } from '../format/degradedText.ts';
import { LANGUAGE_NAMES } from '../format/language.ts';
import { formatPlain } from '../format/numbers.ts';
import { $isRingLocked } from '../state/alerts.ts';
import { $degraded, $place } from '../state/computed.ts';
import { $missingLanguage } from '../state/language.ts';
import { $connection, $kept, $live, $troubles, $words } from '../state/sources.ts';
import { SmallSign } from './shapes.tsx';

/** The notices, each only while it is true. */
export function Notices() {
  return (
    <aside class="notices">
      <Simulated />
      <RingLocked />
      <div role="status">
        <Lost />
        <Degraded />
        <OutboxLate />
        <MissingLanguage />
        <PageTrouble />
      </div>
    </aside>
  );
}

function Simulated() {
  const live = $live.value;
  const { header } = $words.value;
  if (live === null || !live.shop.simulated) return null;
  return (
    <p class="simulated">
      <span class="simulated-badge">{header.simulated(formatPlain(live.rate, $place.value.locale))}</span>
      <button type="button" class="link" onClick={() => openDialog({ kind: 'help' })}>
        {header.simulatedRun}
      </button>
    </p>
  );
}

/** Above what may come and go by itself: a tap anywhere ends it. */
function RingLocked() {
  const { alarm } = $words.value;
  if (!$isRingLocked.value) return null;
  return (
    <p class="ring-locked">
      <SmallSign name="silent" />
      <span>{alarm.lockedBrief}</span>
      <button type="button" class="link" onClick={playAlarm}>
        {alarm.letRing}
      </button>
    </p>
  );
}

function Lost() {
  const { connection } = $words.value;
  const keptCount = $kept.value.length;
  if ($connection.value !== 'lost' || $live.value === null) return null;
  return (
    <p class="notice" data-tone="warn">
      <SmallSign name="off" />
      <span>
        {connection.lost}
        {keptCount === 0 ? null : ` ${connection.keptCount(keptCount)}`}
      </span>
    </p>
  );
}

function Degraded() {
  const lines = formatDegraded($degraded.value, { words: $words.value, isEntering: true });
  if ($live.value === null) return null;
  return (
    <>
      {lines.map((line) => (
        <p key={line} class="notice" data-tone="stop">
          <SmallSign name="stop" />
          <span>{line}</span>
        </p>
      ))}
    </>
  );
}

/** Phones and programs have not heard for long: the pages themselves go on. */
function OutboxLate() {
  const { connection } = $words.value;
  if ($live.value?.outbox !== 'late') return null;
  return (
    <p class="notice" data-tone="warn">
      <SmallSign name="warn" />
      <span>{connection.outboxLate}</span>
    </p>
  );
}

/** The words that are here say that the wanted ones are not. */
function MissingLanguage() {
  const missing = $missingLanguage.value;
  if (missing === null) return null;
  return (
    <p class="notice" data-tone="warn">
      <SmallSign name="off" />
      <span>{$words.value.menu.languageMissing(LANGUAGE_NAMES[missing])}</span>
    </p>
  );
}

function PageTrouble() {
  const trouble = $troubles.value['page'];
  if (trouble === undefined) return null;
  return (
    <p class="notice" data-tone="warn">
      <SmallSign name="warn" />
      <span>{trouble.text}</span>
      <button type="button" class="quiet" onClick={() => dismissTrouble('page')}>
        {$words.value.act.close}
      </button>
    </p>
  );
}
