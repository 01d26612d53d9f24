// When a screen rings; each rule says in words what it means.
import type { SettingsWire } from '../../../server/contract/index.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { type FormPlan, valueOf } from '../../state/setupForm.ts';
import { planAlerts } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { FormCheck, FormNumber } from './formFields.tsx';
import { SetupForm } from './SetupForm.tsx';

const TESTS_COUNT = 10;

/** The form of the alert rules. */
export function AlertsPart({ settings }: { readonly settings: SettingsWire }) {
  const { alerts: words } = $words.value.setup;
  const plan = planAlerts(settings);
  return (
    <>
      <p>{words.intro}</p>
      <SetupForm plan={plan} label={words.title}>
        <div class="setup-fields">
          <FormNumber
            plan={plan}
            path="alerts.testProbabilityPct"
            label={words.probability}
            hint={words.probabilityHint(toldCount(plan))}
          />
          <FormNumber plan={plan} path="alerts.spreadByS" label={words.spreadBy} hint={words.spreadByHint} />
          <FormNumber plan={plan} path="alerts.waitingMin" label={words.waiting} hint={words.waitingHint} />
          <FormNumber plan={plan} path="alerts.sensorQuietMin" label={words.quiet} hint={words.quietHint} />
          <FormNumber plan={plan} path="alerts.slowingMin" label={words.slowing} hint={words.slowingHint} />
          <FormNumber
            plan={plan}
            path="alerts.slowingPct"
            label={words.slowingShare}
            hint={words.slowingShareHint}
          />
          <FormCheck plan={plan} path="alerts.sound" label={words.sound} hint={words.soundHint} />
        </div>
      </SetupForm>
    </>
  );
}

/** Of ten tests how many the typed promise means; of half a number what holds now. */
function toldCount(plan: FormPlan): number {
  const typed = numberOf(String(valueOf(plan, 'alerts.testProbabilityPct')));
  const promisedPct = typed ?? numberOf(String(plan.held['alerts.testProbabilityPct'])) ?? 0;
  return Math.round((Math.min(100, Math.max(0, promisedPct)) / 100) * TESTS_COUNT);
}
