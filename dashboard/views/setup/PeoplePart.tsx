// People by their initials: added, renamed, retired, brought back.
import type { SettingsWire } from '../../../server/contract/index.ts';
import { setPersonActive, toggleEditor } from '../../actions/setupActs.ts';
import { OWN_REASONS } from '../../state/rejection.ts';
import { type FormPlan, valueOf } from '../../state/setupForm.ts';
import { planPerson } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { EntryEditor } from './EntryEditor.tsx';
import { FormText } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

type Person = SettingsWire['people'][number];

/** The list of people and the form for a new one. */
export function PeoplePart({ settings }: { readonly settings: SettingsWire }) {
  const { people: words } = $words.value.setup;
  const plan = planPerson(settings, null);
  return (
    <>
      <p>{settings.people.length === 0 ? words.none : words.intro}</p>
      {settings.people.length === 0 ? null : (
        <ul class="entries">
          {settings.people.map((person) => (
            <PersonEntry key={person.initials} settings={settings} person={person} />
          ))}
        </ul>
      )}
      <EntryEditor plan={plan} text={words.add}>
        <NewPerson plan={plan} people={settings.people} />
      </EntryEditor>
    </>
  );
}

function PersonEntry({ settings, person }: { readonly settings: SettingsWire; readonly person: Person }) {
  const { people: words, form } = $words.value.setup;
  const { initials, name, active } = person;
  const plan = planPerson(settings, person);
  return (
    <li class="entry" data-quiet={!active}>
      <b class="entry-name">{initials}</b>
      <span class="entry-fact">
        {name ?? ''} {active ? null : <span class="setup-badge">{words.retired}</span>}
      </span>
      <div class="entry-acts">
        <button
          type="button"
          class="quiet"
          aria-label={active ? words.retireOf(initials) : words.bringBackOf(initials)}
          onClick={() => setPersonActive(settings, person, !active)}
        >
          {active ? words.retire : words.bringBack}
        </button>
        <EntryEditor plan={plan} text={form.change} name={form.changeOf(initials)}>
          <SetupForm
            plan={plan}
            label={form.changeOf(initials)}
            isEditor
            onSaved={() => toggleEditor(plan.id, false)}
          >
            <FormText plan={plan} path="people.0.name" label={words.name} hint={words.nameHint} />
          </SetupForm>
        </EntryEditor>
      </div>
      {active ? null : <p class="field-hint entry-hint">{words.retiredHint}</p>}
    </li>
  );
}

function NewPerson({ plan, people }: { readonly plan: FormPlan; readonly people: readonly Person[] }) {
  const { people: words } = $words.value.setup;
  const initials = String(valueOf(plan, 'people.0.initials')).trim();
  const isKnown = people.some((person) => person.initials === initials);
  return (
    <SetupForm
      plan={plan}
      label={words.add}
      isNew
      isEditor
      mistakes={isKnown ? [{ path: 'people.0.initials', reason: OWN_REASONS.taken, allowed: '' }] : []}
      onSaved={() => toggleEditor(plan.id, false)}
    >
      <div class="setup-fields">
        <FormText plan={plan} path="people.0.initials" label={words.initials} />
        <FormText plan={plan} path="people.0.name" label={words.name} hint={words.nameHint} />
      </div>
    </SetupForm>
  );
}
