// The settings in force as the wire carries them.
import { isoFromInstant, type SettingsTouchWire, type SettingsWire } from '../contract/index.ts';
import { activeWebhooks } from '../domain/deliverWebhooks.ts';
import type { SettingsByHand, Touch } from '../domain/settings.ts';
import { plainOf } from '../domain/settingsInForce.ts';
import { readByHand } from './settingsView.ts';
import type { Shop } from './shop.ts';

/** The settings in force, with who changed what last. */
export async function readSettings(shop: Shop): Promise<SettingsWire> {
  return shop.turns(async () => presentSettings(shop, await readByHand(shop)));
}

/** Settings as the wire carries them. */
export function presentSettings({ facts }: Pick<Shop, 'facts'>, { shop }: SettingsByHand): SettingsWire {
  const plain = plainOf(facts);
  const { name, timeZone, language, beadGramsPer10Cm } = plain;
  const { testProbabilityPct, spreadByS, waitingMin, slowingMin, slowingPct, sensorQuietMin } = plain;
  return {
    version: shop.version,
    shop: { name, timeZone, language, units: { ...facts.units } },
    alerts: {
      testProbabilityPct,
      spreadByS,
      waitingMin,
      slowingMin,
      slowingPct,
      sensorQuietMin,
      sound: plain.isSounding,
    },
    beadGramsPer10Cm,
    people: facts.people.map(({ initials, name: called, isActive }) => ({
      initials,
      name: called,
      active: isActive,
    })),
    bays: facts.bays.map((bay) => ({
      id: bay.id,
      name: bay.name,
      kind: bay.kind,
      movingAir: bay.isAirMoving,
      substrate: bay.substrate,
    })),
    webhooks: activeWebhooks(facts.webhooks).map(({ id, name: called, url, events }) => ({
      id,
      name: called,
      url,
      events: events === null ? null : [...events],
    })),
    changes: presentTouches(shop.touches),
  };
}

/** Who changed what and when, as the wire carries it. */
export function presentTouches(touches: readonly Touch[]): SettingsTouchWire[] {
  return touches.map(({ version, at, by, paths }) => ({
    version,
    at: isoFromInstant(at),
    by,
    paths: [...paths],
  }));
}
