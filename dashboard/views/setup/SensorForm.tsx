// What can be said of one sensor: its name, where it hangs, what is added to its readings.
import type { SensorWire } from '../../../server/contract/index.ts';
import { toggleEditor } from '../../actions/setupActs.ts';
import { temperatureUnit } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import { type FormPlan, valueOf } from '../../state/setupForm.ts';
import { $live, $words } from '../../state/sources.ts';
import { FormNumber, FormSelect, FormText } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

/** The form of a sensor. */
export function SensorForm({ sensor, plan }: { readonly sensor: SensorWire; readonly plan: FormPlan }) {
  const { sensors: words, form } = $words.value.setup;
  const hangs = valueOf(plan, 'bayId') !== '';
  const bays = ($live.value?.bays ?? []).map(({ id, name }) => ({ value: id, name }));
  return (
    <SetupForm
      plan={plan}
      label={form.changeOf(sensor.name ?? sensor.id)}
      isEditor
      onSaved={() => toggleEditor(plan.id, false)}
    >
      <div class="setup-fields">
        <FormText plan={plan} path="name" label={words.name} hint={words.nameHint} />
        <FormSelect
          plan={plan}
          path="bayId"
          label={words.bay}
          options={[{ value: '', name: words.nowhere }, ...bays]}
        />
        {hangs ? (
          <>
            <FormNumber
              plan={plan}
              path="airTemperatureOffsetK"
              label={words.temperatureOffset(temperatureUnit($place.value.units))}
              hint={words.temperatureOffsetHint}
              quantity="difference"
            />
            <FormNumber
              plan={plan}
              path="relativeHumidityOffsetPct"
              label={words.humidityOffset}
              hint={words.humidityOffsetHint}
            />
          </>
        ) : null}
      </div>
    </SetupForm>
  );
}
