// Settings of this device: who uses it, language and units, light or dark, the alarm.
import { useState } from 'preact/hooks';
import { leaveSession } from '../actions/accessActs.ts';
import { allowNotifications, openSetup, playAlarm, setDevice } from '../actions/deviceActs.ts';
import { type Language, LANGUAGE_NAMES } from '../format/language.ts';
import type { Units } from '../format/units.ts';
import { $access } from '../state/access.ts';
import { $shopUnits } from '../state/computed.ts';
import { $device, type LanguageChoice, type Look } from '../state/device.ts';
import { $missingLanguage } from '../state/language.ts';
import { $alarm, $live, $words } from '../state/sources.ts';
import { ChipGroup } from './ChipGroup.tsx';
import { CheckField, TextField } from './Field.tsx';
import { PushChoice } from './PushChoice.tsx';
import { Sheet } from './Sheet.tsx';

/** The settings sheet. */
export function DeviceSheet() {
  const { menu } = $words.value;
  const { look } = $device.value;
  return (
    <Sheet title={menu.title}>
      <PersonChoice />
      <LanguageChoices />
      <UnitChoices />
      <ChipGroup<Look>
        label={menu.look}
        chosen={look}
        chips={[
          { value: 'auto', name: menu.lookAuto },
          { value: 'light', name: menu.lookLight },
          { value: 'dark', name: menu.lookDark },
        ]}
        onChoose={(chosen) => setDevice({ look: chosen })}
      />
      <AlarmChoice />
      <PushChoice />
      <ManagerChoice />
    </Sheet>
  );
}

/** Managers sign in from any device, also one whose head has no Setup. */
function ManagerChoice() {
  const { access: words } = $words.value;
  const access = $access.value;
  if (access === null || access.kind === 'open') return null;
  if (access.signedIn) {
    return (
      <button type="button" class="second" onClick={leaveSession}>
        {words.signOut}
      </button>
    );
  }
  return (
    <button type="button" class="second" onClick={openSetup}>
      {words.signInLink}
    </button>
  );
}

function LanguageChoices() {
  const { menu } = $words.value;
  const names = Object.entries(LANGUAGE_NAMES) as [Language, string][];
  const missing = $missingLanguage.value;
  return (
    <div>
      <ChipGroup<LanguageChoice>
        label={menu.language}
        chosen={$device.value.language}
        chips={[
          { value: 'auto', name: menu.languageAuto },
          ...names.map(([value, name]) => ({ value, name, lang: value })),
        ]}
        onChoose={(language) => setDevice({ language })}
      />
      <div role="status">
        {missing === null ? null : <p class="field-warn">{menu.languageMissing(LANGUAGE_NAMES[missing])}</p>}
      </div>
    </div>
  );
}

/** Three choices, since a shop may read its air in °F and weigh in grams. */
function UnitChoices() {
  const { menu } = $words.value;
  const { temperatureUnit, lengthUnit, massUnit } = $device.value;
  const shops = $shopUnits.value;
  const lengths = { mm: menu.lengthMetric, in: menu.lengthInches };
  const auto = (hint: string) => ({ value: 'auto' as const, name: menu.unitAuto, hint });
  return (
    <>
      <ChipGroup<'auto' | Units['temperature']>
        label={menu.temperature}
        layout="row"
        chosen={temperatureUnit}
        chips={[auto(`°${shops.temperature}`), { value: 'C', name: '°C' }, { value: 'F', name: '°F' }]}
        onChoose={(unit) => setDevice({ temperatureUnit: unit })}
      />
      <ChipGroup<'auto' | Units['length']>
        label={menu.length}
        layout="row"
        chosen={lengthUnit}
        chips={[
          auto(lengths[shops.length]),
          { value: 'mm', name: lengths.mm },
          { value: 'in', name: lengths.in },
        ]}
        onChoose={(unit) => setDevice({ lengthUnit: unit })}
      />
      <ChipGroup<'auto' | Units['mass']>
        label={menu.mass}
        layout="row"
        chosen={massUnit}
        chips={[auto(shops.mass), { value: 'g', name: 'g' }, { value: 'oz', name: 'oz' }]}
        onChoose={(unit) => setDevice({ massUnit: unit })}
      />
    </>
  );
}

function PersonChoice() {
  const { menu } = $words.value;
  const people = $live.value?.people ?? [];
  const { person } = $device.value;
  // "KL" on the way to "KLM" is still being typed, though there is a chip of those initials.
  const [isTyped, setIsTyped] = useState(!people.some(({ initials }) => initials === person));
  const choose = (initials: string, typed: boolean): void => {
    setIsTyped(typed);
    setDevice({ person: initials === '' ? null : initials });
  };
  const chips = people.map(({ initials, name }) => ({
    value: initials,
    name: initials,
    ...(name === null ? {} : { hint: name }),
  }));
  return (
    <>
      <ChipGroup
        label={menu.person}
        chosen={person ?? ''}
        chips={[{ value: '', name: menu.noPerson }, ...chips]}
        onChoose={(initials) => choose(initials, false)}
      />
      <TextField
        label={menu.personTyped}
        value={isTyped ? (person ?? '') : ''}
        onInput={(typed) => choose(typed.trim().slice(0, 8), true)}
      />
    </>
  );
}

function AlarmChoice() {
  const { menu, alarm } = $words.value;
  const { sound, notifications } = $alarm.value;
  return (
    <section class="alarm-choice">
      <h3>{menu.alarm}</h3>
      <CheckField
        label={menu.sound}
        isChecked={!$device.value.isMuted}
        onChange={(isChecked) => setDevice({ isMuted: !isChecked })}
      />
      <div class="row">
        <button type="button" class="second" onClick={playAlarm}>
          {sound === 'locked' ? alarm.letRing : menu.trySound}
        </button>
        {notifications === 'ask' ? (
          <button type="button" class="second" onClick={allowNotifications}>
            {menu.notify}
          </button>
        ) : null}
      </div>
      <div role="status">
        {$live.value?.shop.sound === false ? <p>{alarm.shopSilent}</p> : null}
        {sound === 'ready' ? null : <p>{sound === 'locked' ? alarm.locked : alarm.noSound}</p>}
        <p>{alarm.notify[notifications]}</p>
      </div>
    </section>
  );
}
