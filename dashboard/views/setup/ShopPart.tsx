// The shop itself: its name, time zone, and what its devices speak until one chooses otherwise.
import { useMemo } from 'preact/hooks';
import type { SettingsWire } from '../../../server/contract/index.ts';
import { formatClock } from '../../format/clock.ts';
import { LANGUAGE_NAMES } from '../../format/language.ts';
import { $place } from '../../state/computed.ts';
import { type FormPlan, valueOf } from '../../state/setupForm.ts';
import { planShop } from '../../state/setupPlans.ts';
import { $nowAt, $words } from '../../state/sources.ts';
import { useClocked } from '../useClocked.ts';
import { FormChips, FormSelect, FormText, optionsOf } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

/** The form of the shop. */
export function ShopPart({ settings }: { readonly settings: SettingsWire }) {
  const { setup, menu } = $words.value;
  const { shop: words } = setup;
  const plan = planShop(settings);
  return (
    <SetupForm plan={plan} label={words.title}>
      <div class="setup-fields">
        <FormText plan={plan} path="shop.name" label={words.name} hint={words.nameHint} />
        <TimeZone plan={plan} />
        <FormSelect
          plan={plan}
          path="shop.language"
          label={words.language}
          hint={words.languageHint}
          options={optionsOf(LANGUAGE_NAMES)}
        />
      </div>
      <fieldset class="setup-group">
        <legend>{words.units}</legend>
        <p class="field-hint">{words.unitsHint}</p>
        <div class="setup-fields">
          <FormChips
            plan={plan}
            path="shop.units.temperature"
            label={menu.temperature}
            chips={[
              { value: 'C', name: '°C' },
              { value: 'F', name: '°F' },
            ]}
          />
          <FormChips
            plan={plan}
            path="shop.units.length"
            label={menu.length}
            chips={[
              { value: 'mm', name: menu.lengthMetric },
              { value: 'in', name: menu.lengthInches },
            ]}
          />
          <FormChips
            plan={plan}
            path="shop.units.mass"
            label={menu.mass}
            chips={[
              { value: 'g', name: 'g' },
              { value: 'oz', name: 'oz' },
            ]}
          />
        </div>
      </fieldset>
    </SetupForm>
  );
}

/** All zones that this browser knows; the clock there shows that the right one was chosen. */
function TimeZone({ plan }: { readonly plan: FormPlan }) {
  const { shop: words } = $words.value.setup;
  const zones = useMemo(() => Intl.supportedValuesOf('timeZone'), []);
  const typed = String(valueOf(plan, 'shop.timeZone'));
  const clock = useClocked(typed, clockIn, $nowAt);
  return (
    <FormText
      plan={plan}
      path="shop.timeZone"
      label={words.timeZone}
      hint={clock === null ? words.timeZoneHint : `${words.timeZoneHint} ${words.timeZoneNow(clock)}`}
      suggestions={zones}
    />
  );
}

function clockIn(timeZone: string, nowAt: number): string | null {
  if (timeZone === '') return null;
  try {
    return formatClock(nowAt, { ...$place.peek(), timeZone });
  } catch {
    return null;
  }
}
