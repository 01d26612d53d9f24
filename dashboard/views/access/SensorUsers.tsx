// Users of sensors and displays: made with a password that is shown once, given other sensors, a new password, or ended.
import { useState } from 'preact/hooks';
import type { AccessSetupWire } from '../../../server/contract/index.ts';
import {
  addUser,
  changeUser,
  endUser,
  hidePassword,
  renewPassword,
  type UserDraft,
} from '../../actions/accessActs.ts';
import { $toldPassword } from '../../state/access.ts';
import { $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { TextField } from '../Field.tsx';
import { AskForm } from './AskForm.tsx';
import { EndEntry } from './EndEntry.tsx';

type User = AccessSetupWire['sensorUsers'][number];

/** The list, the form for a new one, and the password of the last. */
export function SensorUsers({ users }: { readonly users: readonly User[] }) {
  const { access: words } = $words.value;
  return (
    <>
      <h3>{words.users}</h3>
      <p>{users.length === 0 ? words.noUsers : words.usersIntro}</p>
      {users.length === 0 ? null : (
        <ul class="entries">
          {users.map((user) => (
            <UserEntry key={user.name} user={user} />
          ))}
        </ul>
      )}
      <ToldPassword />
      <NewUser />
    </>
  );
}

function ToldPassword() {
  const { access: words } = $words.value;
  const told = $toldPassword.value;
  return (
    <div role="status">
      {told === null ? null : (
        <div class="unknown password">
          <dl>
            <dt>{words.password(told.name)}</dt>
            <dd>
              <code>{told.password}</code>
            </dd>
          </dl>
          <p>{words.passwordHint}</p>
          <button type="button" class="second" onClick={hidePassword}>
            {words.pairDone}
          </button>
        </div>
      )}
    </div>
  );
}

function UserEntry({ user }: { readonly user: User }) {
  const { access: words } = $words.value;
  const { name, kind, sensorIds } = user;
  const [isOpen, setIsOpen] = useState(false);
  const [typed, setTyped] = useState(sensorIds.join(', '));
  const does =
    kind === 'reader'
      ? words.hears
      : sensorIds.length === 0
        ? words.sendsNothing
        : words.sends(sensorIds.join(', '));
  return (
    <li class="entry">
      <b class="entry-name">{name}</b>
      <span class="entry-fact">{does}</span>
      <div class="entry-acts">
        <EndEntry name={name} onEnd={() => endUser(name)} />
        <button
          type="button"
          class="second entry-change"
          aria-label={words.changeOf(name)}
          aria-expanded={isOpen}
          onClick={() => setIsOpen(!isOpen)}
        >
          {words.change}
        </button>
      </div>
      {isOpen ? (
        <div class="entry-form">
          {kind === 'reader' ? null : (
            <AskForm
              label={words.changeOf(name)}
              text={words.save}
              onAsk={() => changeUser({ name, sensors: typed })}
              onDone={() => setIsOpen(false)}
            >
              <TextField
                label={words.userSensors}
                value={typed}
                hint={words.userSensorsHint}
                onInput={setTyped}
              />
            </AskForm>
          )}
          <AskForm
            label={words.newPasswordOf(name)}
            text={words.newPassword}
            onAsk={() => renewPassword(name)}
            onDone={() => setIsOpen(false)}
          />
        </div>
      ) : null}
    </li>
  );
}

const EMPTY: UserDraft = { name: '', kind: 'sensor', sensors: '' };

function NewUser() {
  const { access: words } = $words.value;
  const [draft, setDraft] = useState(EMPTY);
  const [isOpen, setIsOpen] = useState(false);
  if (!isOpen) {
    return (
      <button type="button" class="second entry-change" aria-expanded={false} onClick={() => setIsOpen(true)}>
        {words.addUser}
      </button>
    );
  }
  return (
    <div class="entry-form">
      <AskForm
        label={words.addUser}
        text={words.addUser}
        onAsk={() => addUser(draft)}
        onDone={() => {
          setDraft(EMPTY);
          setIsOpen(false);
        }}
      >
        <ChipGroup<UserDraft['kind']>
          label={words.kindLabel}
          chosen={draft.kind}
          chips={[
            { value: 'sensor', name: words.kind.sensor, hint: words.kindHint.sensor },
            { value: 'reader', name: words.kind.reader, hint: words.kindHint.reader },
          ]}
          onChoose={(kind) => setDraft({ ...draft, kind })}
        />
        <TextField
          label={words.userName}
          value={draft.name}
          hint={words.userNameHint}
          onInput={(name) => setDraft({ ...draft, name })}
        />
        {draft.kind === 'reader' ? null : (
          <TextField
            label={words.userSensors}
            value={draft.sensors}
            hint={words.userSensorsHint}
            onInput={(sensors) => setDraft({ ...draft, sensors })}
          />
        )}
      </AskForm>
    </div>
  );
}
