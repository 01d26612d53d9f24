// Next hands: who is needed where next, and a promise in danger with why and what would help.
import type { ComponentChildren } from 'preact';
import type { PlanEntryWire } from '../../../server/contract/index.ts';
import {
  formatDanger,
  formatHelp,
  formatNeedTime,
  formatSlack,
  type PlanNaming,
} from '../../format/floorText.ts';
import { formatClock } from '../../format/clock.ts';
import { epochAt } from '../../format/phase.ts';
import { formatReason } from '../../format/reason.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $floorAt, $isWall, $nextHands, $pageTurnCount, $plan } from '../../state/floor.ts';
import { $live, $words } from '../../state/sources.ts';
import { SmallSign, StageShape } from '../shapes.tsx';

/** So many are told; the foreman sends people to the first few. */
const TOLD_COUNT = 12;

/** The list beside the axis. */
export function NextHands() {
  const entries = $nextHands.value;
  return (
    <section class="hands" aria-labelledby="hands-title">
      <HandsHead entries={entries} />
      <ol class="hands-list">
        {inOrder(entries).map((entry) => (
          <Hand key={entry.batchId} entry={entry}>
            {entry.danger === null ? null : <Danger entry={entry} />}
          </Hand>
        ))}
      </ol>
      {entries.length > TOLD_COUNT ? <p>{$words.value.floor.planMore(entries.length - TOLD_COUNT)}</p> : null}
    </section>
  );
}

/** The same for the wall: a short list, and below it one promise in danger after the other. */
export function WallHands() {
  const entries = $nextHands.value;
  const endangered = entries.filter(({ danger }) => danger !== null);
  const told = endangered[$pageTurnCount.value % Math.max(1, endangered.length)];
  return (
    <section class="hands" aria-labelledby="hands-title">
      <HandsHead entries={entries} />
      <ol class="hands-list">
        {inOrder(entries).map((entry) => (
          <Hand key={entry.batchId} entry={entry} />
        ))}
      </ol>
      {told === undefined ? null : (
        <div class="hand">
          <p class="hand-panel">
            <b>{told.panel}</b>
          </p>
          <Danger entry={told} />
        </div>
      )}
    </section>
  );
}

function inOrder(entries: readonly PlanEntryWire[]): PlanEntryWire[] {
  return entries.slice(0, TOLD_COUNT);
}

function HandsHead({ entries }: { readonly entries: readonly PlanEntryWire[] }) {
  const { floor } = $words.value;
  const dangerCount = entries.filter(({ danger }) => danger !== null).length;
  return (
    <div class="hands-head">
      <h2 id="hands-title">{floor.nextHands}</h2>
      {$plan.value === null ? (
        <p role="status">{floor.planPending}</p>
      ) : entries.length === 0 ? (
        <p>{floor.planNone}</p>
      ) : (
        <p class="hands-danger" data-tone={dangerCount === 0 ? 'spare' : 'stop'}>
          {dangerCount === 0 ? floor.noDanger : floor.dangerCount(dangerCount)}
        </p>
      )}
    </div>
  );
}

interface HandProps {
  readonly entry: PlanEntryWire;
  readonly children?: ComponentChildren;
}

function Hand({ entry, children }: HandProps) {
  const words = $words.value;
  const slack = formatSlack(entry, words);
  const promisedAt = epochAt(entry.promisedAt);
  const who = [namingOf('').bayName(entry.bayId), entry.by].filter((part) => part !== null).join(' · ');
  return (
    <li class="hand" data-need={entry.need} data-danger={entry.danger?.kind ?? 'none'}>
      <p class="hand-panel">
        <StageShape stage={entry.stage} />
        {$isWall.value ? (
          <b>{entry.panel}</b>
        ) : (
          <a href={`#slip-${entry.batchId}`}>
            <b>{entry.panel}</b>
          </a>
        )}
      </p>
      <HandTime entry={entry} />
      <p class="hand-what">
        {who} · {words.floor.need[entry.need]}
      </p>
      {promisedAt === null || entry.danger !== null || $isWall.value ? null : (
        <p class="hand-what">
          {words.floor.promise(formatClock(promisedAt, $place.value))}
          {slack === null ? null : `, ${slack.text}`}
        </p>
      )}
      {children}
    </li>
  );
}

function HandTime({ entry }: { readonly entry: PlanEntryWire }) {
  const words = $words.value;
  const text = entry.need === 'sanding' ? words.floor.inHand : formatNeedTime(entry, $floorAt.value, words);
  return <p class="hand-time">{text ?? '–'}</p>;
}

function Danger({ entry }: { readonly entry: PlanEntryWire }) {
  const { floor } = $words.value;
  const naming = planNaming();
  const batch = $live.value?.batches.find(({ id }) => id === entry.batchId);
  const reason =
    batch === undefined || entry.need === 'sanding' ? null : formatReason(batch, namingOf(batch.cardId));
  const help = entry.danger?.help ?? [];
  return (
    <div class="danger" data-tone={entry.danger?.kind === 'tight' ? 'soon' : 'stop'}>
      <p class="danger-what">
        <SmallSign name={entry.danger?.kind === 'tight' ? 'warn' : 'stop'} />
        <b>{formatDanger(entry, naming)}</b>
      </p>
      {reason === null ? null : <p class="danger-why">{reason}</p>}
      {help.length === 0 ? (
        entry.danger?.kind === 'late' ? (
          <p class="danger-why">{floor.noHelp}</p>
        ) : null
      ) : (
        <ul class="danger-help" aria-label={floor.help}>
          {help.map((one) => (
            <li key={`${one.kind}${one.lampId ?? one.bayId ?? ''}`}>{formatHelp(one, naming)}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function planNaming(): PlanNaming {
  const live = $live.value;
  return {
    words: $words.value,
    place: $place.value,
    bayName: namingOf('').bayName,
    lampName: (lampId) => live?.lamps.find(({ id }) => id === lampId)?.name ?? lampId,
    panelName: (batchId) => live?.batches.find(({ id }) => id === batchId)?.panel ?? batchId,
  };
}
