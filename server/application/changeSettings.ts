// What a person sets by hand of the shop itself: name, zone, people, bays, alert rules.
import type { PutSettings, SettingsWire } from '../contract/index.ts';
import { diffSettings, type SettingsAsked } from '../domain/diffSettings.ts';
import { unseenTouches } from '../domain/settings.ts';
import { changeSetup } from './changeSetup.ts';
import type { SetupAnswer, SetupAsk } from './ports/setupDoors.ts';
import { presentSettings } from './presentSettings.ts';
import type { Shop } from './shop.ts';

/** Changes the shop's settings, or says why not. */
export async function putSettings(
  shop: Shop,
  { key, body }: SetupAsk<PutSettings>,
): Promise<SetupAnswer<SettingsWire>> {
  return changeSetup(shop, {
    key,
    fingerprint: JSON.stringify(['settings', body]),
    by: body.by ?? null,
    async decide({ shop: held }) {
      const touches = unseenTouches(held, body.expectedVersion);
      if (touches !== null) return { kind: 'stale', version: held.version, touches };
      return { kind: 'change', change: diffSettings(shop.facts, askedFrom(body)), isNew: false };
    },
    present: async (ahead, byHand) => presentSettings(ahead, byHand),
  });
}

/** The wire's names for what is asked turned into the domain's. */
function askedFrom({ shop, alerts, beadGramsPer10Cm, people, bays }: PutSettings): SettingsAsked {
  return {
    plain: {
      name: shop?.name,
      timeZone: shop?.timeZone,
      language: shop?.language,
      temperatureUnit: shop?.units?.temperature,
      lengthUnit: shop?.units?.length,
      massUnit: shop?.units?.mass,
      testProbabilityPct: alerts?.testProbabilityPct,
      spreadByS: alerts?.spreadByS,
      waitingMin: alerts?.waitingMin,
      slowingMin: alerts?.slowingMin,
      slowingPct: alerts?.slowingPct,
      sensorQuietMin: alerts?.sensorQuietMin,
      isSounding: alerts?.sound,
      beadGramsPer10Cm,
    },
    people: (people ?? []).map(({ initials, name, active }) => ({ initials, name, isActive: active })),
    bays: (bays ?? []).map(({ id, name, kind, movingAir, substrate }) => ({
      id,
      name,
      kind,
      isAirMoving: movingAir,
      substrate,
    })),
  };
}
