// Bays: added, renamed, what they are, whether their air moves, what is usually worked on there.
import type { SettingsWire } from '../../../server/contract/index.ts';
import { toggleEditor } from '../../actions/setupActs.ts';
import type { FormPlan } from '../../state/setupForm.ts';
import { planBay } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { EntryEditor } from './EntryEditor.tsx';
import { FormCheck, FormSelect, FormText, optionsOf } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

type Bay = SettingsWire['bays'][number];

/** The list of bays and the form for a new one. */
export function BaysPart({ settings }: { readonly settings: SettingsWire }) {
  const { bays: words } = $words.value.setup;
  const plan = planBay(settings, null);
  return (
    <>
      <p>{settings.bays.length === 0 ? words.none : words.intro}</p>
      {settings.bays.length === 0 ? null : (
        <ul class="entries">
          {settings.bays.map((bay) => (
            <BayEntry key={bay.id} settings={settings} bay={bay} />
          ))}
        </ul>
      )}
      <EntryEditor plan={plan} text={words.add}>
        <SetupForm plan={plan} label={words.add} isNew isEditor onSaved={() => toggleEditor(plan.id, false)}>
          <BayFields plan={plan} />
        </SetupForm>
      </EntryEditor>
    </>
  );
}

function BayEntry({ settings, bay }: { readonly settings: SettingsWire; readonly bay: Bay }) {
  const { setup, mix } = $words.value;
  const { bays: words, form } = setup;
  const plan = planBay(settings, bay);
  const facts = [
    words.kinds[bay.kind],
    ...(bay.movingAir ? [words.movingAirShort] : []),
    mix.substrates[bay.substrate],
  ];
  return (
    <li class="entry">
      <b class="entry-name">{bay.name}</b>
      <span class="entry-fact">{facts.join(', ')}</span>
      <div class="entry-acts">
        <EntryEditor plan={plan} text={form.change} name={form.changeOf(bay.name)}>
          <SetupForm
            plan={plan}
            label={form.changeOf(bay.name)}
            isEditor
            onSaved={() => toggleEditor(plan.id, false)}
          >
            <BayFields plan={plan} />
          </SetupForm>
        </EntryEditor>
      </div>
    </li>
  );
}

function BayFields({ plan }: { readonly plan: FormPlan }) {
  const { setup, mix } = $words.value;
  const { bays: words } = setup;
  return (
    <div class="setup-fields">
      <FormText plan={plan} path="bays.0.name" label={words.name} />
      <FormSelect
        plan={plan}
        path="bays.0.kind"
        label={words.kind}
        hint={words.kindHint}
        options={optionsOf(words.kinds)}
      />
      <FormSelect
        plan={plan}
        path="bays.0.substrate"
        label={words.substrate}
        hint={words.substrateHint}
        options={optionsOf(mix.substrates)}
      />
      <FormCheck plan={plan} path="bays.0.movingAir" label={words.movingAir} hint={words.movingAirHint} />
    </div>
  );
}
