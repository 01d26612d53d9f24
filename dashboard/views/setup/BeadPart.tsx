// The shop's own bead of hardener: 10 cm of it on a scale, so that Mix can speak of lengths.
import type { SettingsWire } from '../../../server/contract/index.ts';
import { formatLength, formatMass } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { $place } from '../../state/computed.ts';
import { valueOf } from '../../state/setupForm.ts';
import { planBead } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { FormNumber } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

const WEIGHED_CM = 10;
/** A fist of filler, for the example. */
const EXAMPLE_G = 100;
const EXAMPLE_HARDENER_G = 2;

/** The form of the bead. */
export function BeadPart({ settings }: { readonly settings: SettingsWire }) {
  const { bead: words } = $words.value.setup;
  const place = $place.value;
  const plan = planBead(settings);
  const weighedG = numberOf(String(valueOf(plan, 'beadGramsPer10Cm')));
  return (
    <SetupForm plan={plan} label={words.title}>
      <p>
        {weighedG === null || weighedG <= 0
          ? words.whatNone
          : words.what(
              formatLength(Math.round((WEIGHED_CM * EXAMPLE_HARDENER_G) / weighedG), place),
              formatMass(EXAMPLE_G, place),
            )}
      </p>
      <div class="setup-fields">
        <FormNumber
          plan={plan}
          path="beadGramsPer10Cm"
          label={words.label(place.units.mass, formatLength(WEIGHED_CM, place))}
          hint={words.hint}
          quantity="mass"
        />
      </div>
    </SetupForm>
  );
}
