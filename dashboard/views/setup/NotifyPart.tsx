// Notifications outside this page: phones, other programs, a stack light, and what did not get through.
import { useEffect } from 'preact/hooks';
import type { NotificationsWire, SettingsWire } from '../../../server/contract/index.ts';
import { keepNotifications, stopCalling, tryPhone } from '../../actions/notifyActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { phoneName } from '../../format/notifyText.ts';
import { $place } from '../../state/computed.ts';
import { $notifications } from '../../state/notifications.ts';
import { $words } from '../../state/sources.ts';
import { NotifyHooks } from './NotifyHooks.tsx';
import { NotifyLost } from './NotifyLost.tsx';
import { TrialSaid } from './TrialSaid.tsx';

type Phone = NotificationsWire['phones'][number];

/** The ways out. */
export function NotifyPart({ settings }: { readonly settings: SettingsWire }) {
  const { notify: words, setup } = $words.value;
  useEffect(keepNotifications, []);
  const notifications = $notifications.value;
  if (notifications === 'loading') return <p role="status">{setup.loading}</p>;
  if (notifications === 'failed') return <p role="status">{setup.failed}</p>;
  return (
    <>
      <p>{words.intro}</p>
      <h3>{words.phones}</h3>
      {notifications.phones.length === 0 ? (
        <p>{words.phonesNone}</p>
      ) : (
        <ul class="entries">
          {notifications.phones.map((phone) => (
            <PhoneEntry key={phone.id} phone={phone} />
          ))}
        </ul>
      )}
      <h3>{words.hooks}</h3>
      <NotifyHooks settings={settings} secrets={notifications.webhooks} />
      <h3>{words.lost}</h3>
      <NotifyLost notifications={notifications} />
      <h3>{words.light}</h3>
      <StackLight topicPrefix={notifications.topicPrefix} />
    </>
  );
}

function PhoneEntry({ phone }: { readonly phone: Phone }) {
  const { notify: words, screen } = $words.value;
  const name = phoneName(phone, $words.value);
  const { id, screens, service, sinceAt } = phone;
  return (
    <li class="entry entry-told">
      <b class="entry-name">{name}</b>
      <span class="entry-fact">
        <span>{words.phoneFact({ screens: screens.map((place) => screen[place]), service })}</span>
        <span class="entry-seen">{words.phoneSince(formatDayClock(Date.parse(sinceAt), $place.value))}</span>
      </span>
      <div class="entry-acts">
        <button
          type="button"
          class="quiet"
          aria-label={words.endPhoneOf(name)}
          onClick={() => stopCalling(id)}
        >
          {words.endPhone}
        </button>
        <button
          type="button"
          class="second entry-change"
          aria-label={words.trialOf(name)}
          onClick={() => tryPhone(id)}
        >
          {words.trial}
        </button>
        <TrialSaid channelId={`push:${id}`} />
      </div>
    </li>
  );
}

function StackLight({ topicPrefix }: { readonly topicPrefix: string }) {
  const { notify: words } = $words.value;
  return (
    <>
      <p>{words.lightHint}</p>
      <p class="setup-topic">
        <code>{lightTopic(topicPrefix)}</code>
      </p>
      <dl class="setup-signs">
        {LIGHTS.map((light) => (
          <div key={light}>
            <dt>
              <code>{light}</code>
            </dt>
            <dd>{words.lightWords[light]}</dd>
          </div>
        ))}
      </dl>
      <p>{words.batches}</p>
      <p class="setup-topic">
        <code>{batchTopic(topicPrefix)}</code>
      </p>
    </>
  );
}

function lightTopic(topicPrefix: string): string {
  return `${topicPrefix}/bays/+/light`;
}

function batchTopic(topicPrefix: string): string {
  return `${topicPrefix}/batches/+`;
}

const LIGHTS = ['off', 'wait', 'test', 'stop'] as const;
