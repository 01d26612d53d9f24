// What a person sets by hand of the shop itself: name, zone, people, bays, alert rules.
import { CHANNEL_LIMITS, type PutSettings, type SettingsWire } from '../contract/index.ts';
import { activeWebhooks, diffWebhooks } from '../domain/deliverWebhooks.ts';
import { diffSettings, type SettingsAsked } from '../domain/diffSettings.ts';
import { unseenTouches } from '../domain/settings.ts';
import type { WebhookSetting } from '../domain/settingsChange.ts';
import { changeSetup, type SetupDecision } from './changeSetup.ts';
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
      return decideSettings(shop, body);
    },
    present: async (ahead, byHand) => presentSettings(ahead, byHand),
  });
}

function decideSettings({ facts, clock }: Shop, body: PutSettings): SetupDecision {
  const change = diffSettings(facts, askedFrom(body));
  const { changed, missing } = diffWebhooks(facts.webhooks, body.webhooks ?? [], clock.nowAt());
  const rejections = missing.map(({ index, field }) => ({
    path: `webhooks.${index}.${field}`,
    reason: 'is missing',
    allowed: 'needed for a new one',
  }));
  if (countAfter(facts.webhooks, changed) > CHANNEL_LIMITS.webhooksCount) {
    const allowed = `at most ${CHANNEL_LIMITS.webhooksCount} in the list`;
    rejections.push({ path: 'webhooks', reason: 'is too long', allowed });
  }
  if (rejections.length > 0) return { kind: 'rejected', rejections };
  if (changed.length === 0) return { kind: 'change', change, isNew: false };
  const before = change ?? { part: 'shop', paths: [], plain: {}, people: [], bays: [] };
  const paths = [...before.paths, ...changed.map(({ id }) => `webhooks.${id}`)];
  return { kind: 'change', change: { ...before, paths, webhooks: changed }, isNew: false };
}

/** How many are told once the changes are in force. */
function countAfter(held: readonly WebhookSetting[], changed: readonly WebhookSetting[]): number {
  return activeWebhooks([...new Map([...held, ...changed].map((one) => [one.id, one])).values()]).length;
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
