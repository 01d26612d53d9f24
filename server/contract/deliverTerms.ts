// Words of what leaves the pages, for schemas and for pages without them.

/** What a message says of an alert. */
export const DELIVERY_MESSAGES = ['raised', 'changed', 'withdrawn'] as const;

/** Why a message did not get through. */
export const TROUBLE_CODES = [
  'timeout',
  'unreachable',
  'unknownHost',
  'forbiddenAddress',
  'tls',
  'redirect',
  'status',
  'gone',
] as const;

/** What a stack light shows of a bay: nothing, a film cures, one is worth testing, something spoils. */
export const BAY_LIGHTS = ['off', 'wait', 'test', 'stop'] as const;

/** Most programs that are told, and most phones. */
export const CHANNEL_LIMITS = {
  webhooksCount: 8,
  phonesCount: 100,
  /** A device has one; one that was renewed stays beside it until its service says that it is gone. */
  phonesOfDeviceCount: 5,
  urlCharactersMax: 500,
} as const;

export type DeliveryMessage = (typeof DELIVERY_MESSAGES)[number];
export type TroubleCode = (typeof TROUBLE_CODES)[number];
export type BayLight = (typeof BAY_LIGHTS)[number];

/** Why, and with which status where a server answered. */
export interface DeliveryTrouble {
  readonly code: TroubleCode;
  readonly status: number | null;
}
