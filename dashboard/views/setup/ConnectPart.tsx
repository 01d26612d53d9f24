// How to connect a sensor, and the messages that could not be read.
import type { RefusedPayload } from '../../../server/contract/index.ts';
import { formatDayClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

/** What helps with a sensor that does not appear. */
export function ConnectPart({ refused }: { readonly refused: readonly RefusedPayload[] }) {
  const { sensors: words } = $words.value.setup;
  return (
    <>
      <h3>{words.refused}</h3>
      {refused.length === 0 ? <p>{words.refusedNone}</p> : <Refused refused={refused} />}
      <details class="setup-more">
        <summary>{words.connectTitle}</summary>
        <ol>
          {words.connect.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </details>
    </>
  );
}

function Refused({ refused }: { readonly refused: readonly RefusedPayload[] }) {
  return (
    <ul class="entries">
      {refused.map(({ at, topic, reason, excerpt }) => (
        <li class="entry refused" key={`${at}${topic}${excerpt}`}>
          <b class="entry-name">{topic}</b>
          <span class="entry-fact">{reason}</span>
          <code>{excerpt}</code>
          <span class="entry-seen">{formatDayClock(Date.parse(at), $place.value)}</span>
        </li>
      ))}
    </ul>
  );
}
