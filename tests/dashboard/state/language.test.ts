// Which language and units a device shows: what it was told, else what its browser and its shop say.
import { afterEach, describe, expect, it, vi } from 'vitest';
import { startLanguage } from '../../../dashboard/feed/language.ts';
import { languageOfTags, localeOf } from '../../../dashboard/format/language.ts';
import { METRIC, US_CUSTOMARY } from '../../../dashboard/format/units.ts';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { $place, $slips, $title } from '../../../dashboard/state/computed.ts';
import { changeDevice, $device, emptyMemory, parseMemory } from '../../../dashboard/state/device.ts';
import { $browserTags, $language, $missingLanguage } from '../../../dashboard/state/language.ts';
import { $connection, $live, $nowAt, $words } from '../../../dashboard/state/sources.ts';
import { unitsOf } from '../../../dashboard/state/units.ts';
import { makeSnapshot, MIXED_AT } from '../fixtures.ts';

const auto = { temperatureUnit: 'auto', lengthUnit: 'auto', massUnit: 'auto' } as const;

afterEach(() => {
  vi.unstubAllGlobals();
  $device.value = emptyMemory;
  $words.value = wordsEn;
  $live.value = null;
});

describe('the language', () => {
  it.each([
    [['es-MX', 'en'], 'es'],
    [['EN-us'], 'en'],
    [['fr-CA', 'es'], 'es'],
    [['de', 'fr'], null],
    [[], null],
  ])('of a browser that speaks %j is %s', (tags, language) => {
    expect(languageOfTags(tags)).toBe(language);
  });

  it('is the browser’s until one is chosen, and English where neither says any', () => {
    $browserTags.value = ['es-AR', 'en'];
    expect($language.value).toBe('es');
    changeDevice({ language: 'en' });
    expect($language.value).toBe('en');
    $browserTags.value = ['de'];
    changeDevice({ language: 'auto' });
    expect($language.value).toBe('en');
  });

  it('is written in its own region, and American only where the units are', () => {
    const locale = (language: 'en' | 'es', tags: string[], units = METRIC) =>
      localeOf(language, { tags, units });
    expect(locale('es', ['en-US', 'es-AR'])).toBe('es-AR');
    expect(locale('es', ['en-US'])).toBe('es-419');
    expect(locale('en', ['en-US', 'en'])).toBe('en-GB');
    expect(locale('en', ['en-AU'])).toBe('en-AU');
    expect(locale('en', ['en-US'], US_CUSTOMARY)).toBe('en-US');
  });
});

describe('the units', () => {
  it('are the shop’s, each until one is chosen', () => {
    expect(unitsOf(auto, METRIC)).toEqual(METRIC);
    expect(unitsOf(auto, US_CUSTOMARY)).toEqual(US_CUSTOMARY);
    expect(unitsOf({ ...auto, temperatureUnit: 'F' }, METRIC)).toEqual({ ...METRIC, temperature: 'F' });
    expect(unitsOf({ ...auto, massUnit: 'g' }, US_CUSTOMARY)).toEqual({ ...US_CUSTOMARY, mass: 'g' });
  });

  it('are one and the same value for the same choice, so that nothing is drawn anew', () => {
    expect(unitsOf({ ...auto, lengthUnit: 'in' }, METRIC)).toBe(
      unitsOf({ ...auto, lengthUnit: 'in' }, METRIC),
    );
  });
});

describe('what the device remembers', () => {
  it('holds language and units over a visit, and forgets what it does not know', () => {
    const chosen = {
      ...emptyMemory,
      language: 'es',
      temperatureUnit: 'F',
      lengthUnit: 'in',
      massUnit: 'oz',
    } as const;
    expect(parseMemory(JSON.stringify(chosen))).toEqual(chosen);
    expect(parseMemory('{"language":"tlh","temperatureUnit":"K","lengthUnit":3,"massUnit":null}')).toEqual(
      emptyMemory,
    );
  });
});

describe('a switch', () => {
  it('changes every word at once, and no countdown', async () => {
    vi.stubGlobal('navigator', { languages: ['en-US'] });
    vi.stubGlobal('addEventListener', () => undefined);
    const { nowAt: _, ...live } = makeSnapshot();
    $live.value = live;
    $nowAt.value = MIXED_AT + 2 * 60_000;
    await startLanguage();
    const order = $slips.value.map(({ id }) => id);
    expect($title.value).toBe('spread within 4:00 · Left front door – Shop');
    changeDevice({ language: 'es', temperatureUnit: 'F' });
    await vi.waitFor(() => expect($words.value.language).toBe('es'));
    expect($title.value).toBe('aplicar en 4:00 · Left front door – Shop');
    expect($slips.value.map(({ id }) => id)).toEqual(order);
    expect($place.value).toMatchObject({ units: { temperature: 'F' }, locale: 'es-419' });
    changeDevice({ language: 'en' });
    await vi.waitFor(() => expect($title.value).toContain('spread within 4:00'));
    expect($missingLanguage.value).toBeNull();
    expect($connection.value).toBe('connecting');
  });
});
