// What waits, and what was tried in vain and is tried no more: why, and once more or never.
import type { GivenUpWire, NotificationsWire } from '../../../server/contract/index.ts';
import { forgetLost, sendAgain } from '../../actions/notifyActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { lostText, troubleText } from '../../format/notifyText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

const S_PER_MIN = 60;

/** The dead letters. */
export function NotifyLost({ notifications }: { readonly notifications: NotificationsWire }) {
  const { notify: words } = $words.value;
  const { owed, givenUp } = notifications;
  const oldestMin = Math.floor((owed.oldestS ?? 0) / S_PER_MIN);
  return (
    <>
      {owed.count === 0 ? null : (
        <p>
          {words.waiting(owed.count)} {oldestMin < 1 ? null : words.waitingSince(oldestMin)}
        </p>
      )}
      {givenUp.length > 0 ? (
        <ul class="entries">
          {givenUp.map((lost) => (
            <LostEntry key={`${lost.channelId} ${lost.alertId}`} lost={lost} />
          ))}
        </ul>
      ) : owed.count === 0 ? (
        <p>{words.lostNone}</p>
      ) : null}
    </>
  );
}

function LostEntry({ lost }: { readonly lost: GivenUpWire }) {
  const { notify: words } = $words.value;
  const what = lostText(lost, $words.value);
  const { alertId, channelId, triesCount, trouble, at } = lost;
  return (
    <li class="entry entry-told">
      <b class="entry-name">{what}</b>
      <span class="entry-fact">
        <span>{words.lostWhy({ count: triesCount, why: troubleText(trouble, $words.value) })}</span>
        <span class="entry-seen">{formatDayClock(Date.parse(at), $place.value)}</span>
      </span>
      <div class="entry-acts">
        <button
          type="button"
          class="quiet"
          aria-label={words.forgetOf(what)}
          onClick={() => forgetLost({ alertId, channelId })}
        >
          {words.forget}
        </button>
        <button
          type="button"
          class="second entry-change"
          aria-label={words.againOf(what)}
          onClick={() => sendAgain({ alertId, channelId })}
        >
          {words.again}
        </button>
      </div>
    </li>
  );
}
