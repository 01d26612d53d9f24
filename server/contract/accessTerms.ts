// Words of access that pages use without the schemas: rights in order, the shape of a code, bounds of a passphrase.

/** Each holds all before it. */
export const RIGHTS = ['view', 'work', 'manage'] as const;
export type Right = (typeof RIGHTS)[number];

/** What a device may be paired for; managing needs the passphrase. */
export const DEVICE_RIGHTS = ['view', 'work'] as const;
export type DeviceRight = (typeof DEVICE_RIGHTS)[number];

/** A sensor publishes its own readings; a reader only hears of lights and batches and reads figures. */
export const SENSOR_USER_KINDS = ['sensor', 'reader'] as const;
export type SensorUserKind = (typeof SENSOR_USER_KINDS)[number];

/** The fewest characters of a passphrase, and the most that are read. */
export const PASSPHRASE_LIMITS = { charactersMin: 12, charactersMax: 200 } as const;

/** How a code of pairing is written: no letter or digit that looks or sounds like another one. */
export const PAIRING_CODE = { alphabet: '23456789ABCDEFGHJKMNPQRSTVWXYZ', length: 8 } as const;

/** Whether one right holds another. */
export function holdsRight(held: Right | null, asked: Right): boolean {
  return held !== null && RIGHTS.indexOf(held) >= RIGHTS.indexOf(asked);
}

/** A code as it is compared, whatever a person typed between its letters; null when it cannot be one. */
export function plainCode(typed: string): string | null {
  const code = typed.toUpperCase().replaceAll(/[\s\-·.]/g, '');
  const isOne = code.length === PAIRING_CODE.length && new RegExp(`^[${PAIRING_CODE.alphabet}]+$`).test(code);
  return isOne ? code : null;
}
