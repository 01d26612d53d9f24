// Programs that are told of alerts: added, changed, tried, taken out; a new secret is shown once.
import type { NotificationsWire, SettingsWire, WebhookWire } from '../../../server/contract/index.ts';
import { hideSecret, makeSecret, tryWebhook } from '../../actions/notifyActs.ts';
import { removeWebhook, toggleEditor } from '../../actions/setupActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import { $secret } from '../../state/notifications.ts';
import type { FormPlan } from '../../state/setupForm.ts';
import { eventsChoiceOf, planWebhook } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { EntryEditor } from './EntryEditor.tsx';
import { FormSelect, FormText } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';
import { TrialSaid } from './TrialSaid.tsx';

type Secrets = NotificationsWire['webhooks'];

/** The list and the form for a new one. */
export function NotifyHooks(props: { readonly settings: SettingsWire; readonly secrets: Secrets }) {
  const { settings, secrets } = props;
  const { notify: words } = $words.value;
  const plan = planWebhook(settings, null);
  const { webhooks } = settings;
  return (
    <>
      {webhooks.length === 0 ? (
        <p>{words.hooksNone}</p>
      ) : (
        <ul class="entries">
          {webhooks.map((webhook) => (
            <HookEntry key={webhook.id} settings={settings} webhook={webhook} secrets={secrets} />
          ))}
        </ul>
      )}
      <EntryEditor plan={plan} text={words.addHook}>
        <HookForm plan={plan} label={words.addHook} isNew isOwn={false} />
      </EntryEditor>
    </>
  );
}

function HookEntry(props: {
  readonly settings: SettingsWire;
  readonly webhook: WebhookWire;
  readonly secrets: Secrets;
}) {
  const { settings, webhook, secrets } = props;
  const { notify: words, setup } = $words.value;
  const { id, name, url, events } = webhook;
  const plan = planWebhook(settings, webhook);
  const madeAt = secrets.find((secret) => secret.id === id)?.secretMadeAt ?? null;
  const choice = eventsChoiceOf(events);
  return (
    <li class="entry entry-told">
      <b class="entry-name">{name}</b>
      <span class="entry-fact">
        <span>{url}</span>
        <span>{words.hookKinds[choice]}</span>
        <span class="entry-seen">
          {madeAt === null
            ? words.secretNone
            : words.secretSince(formatDayClock(Date.parse(madeAt), $place.value))}
        </span>
      </span>
      <div class="entry-acts">
        <button
          type="button"
          class="quiet"
          aria-label={words.removeHookOf(name)}
          onClick={() => removeWebhook(settings, webhook)}
        >
          {words.removeHook}
        </button>
        <EntryEditor plan={plan} text={setup.form.change} name={setup.form.changeOf(name)}>
          <HookForm plan={plan} label={setup.form.changeOf(name)} isNew={false} isOwn={choice === 'own'} />
        </EntryEditor>
        <div class="entry-more">
          <button
            type="button"
            class="second"
            aria-label={words.trialOf(name)}
            onClick={() => tryWebhook(id)}
          >
            {words.trial}
          </button>
          <button
            type="button"
            class="second"
            aria-label={words.secretOf(name)}
            onClick={() => makeSecret(id)}
          >
            {words.secret}
          </button>
        </div>
        <TrialSaid channelId={`webhook:${id}`} />
        <ShownSecret webhook={webhook} />
      </div>
    </li>
  );
}

function HookForm(props: {
  readonly plan: FormPlan;
  readonly label: string;
  readonly isNew: boolean;
  /** Whether it holds a choice that this form cannot make. */
  readonly isOwn: boolean;
}) {
  const { plan, label, isNew, isOwn } = props;
  const { notify: words } = $words.value;
  const { all, calls, warnings, own } = words.hookKinds;
  const options = [
    { value: 'all', name: all },
    { value: 'calls', name: calls },
    { value: 'warnings', name: warnings },
    ...(isOwn ? [{ value: 'own', name: own }] : []),
  ];
  return (
    <SetupForm plan={plan} label={label} isNew={isNew} isEditor onSaved={() => toggleEditor(plan.id, false)}>
      <div class="setup-fields">
        <FormText plan={plan} path="webhooks.0.name" label={words.hookName} />
        <FormText plan={plan} path="webhooks.0.url" label={words.hookUrl} hint={words.hookUrlHint} />
        <FormSelect plan={plan} path="webhooks.0.events" label={words.hookEvents} options={options} />
      </div>
    </SetupForm>
  );
}

function ShownSecret({ webhook }: { readonly webhook: WebhookWire }) {
  const { notify: words } = $words.value;
  const shown = $secret.value;
  return (
    <div role="status" class="entry-said">
      {shown === null || shown.id !== webhook.id ? null : (
        <div class="setup-secret">
          <p>{words.secretShown(webhook.name)}</p>
          <code>{shown.secret}</code>
          <button type="button" class="second" onClick={hideSecret}>
            {words.secretDone}
          </button>
        </div>
      )}
    </div>
  );
}
