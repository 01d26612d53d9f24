// Who may use the shop: paired devices, managers' sessions, users of sensors, and codes that wait. Devices and users are
// kept in the file of keys; sessions and codes live only here and end with the program.
import type { DeviceRight, Instant } from '../contract/index.ts';
import type { Limiter, Pacer } from './accessLimits.ts';
import type { Ended } from './ports/accessDoors.ts';
import type { AccessStore, PairedDevice, Secrets, SensorUser } from './ports/accessStore.ts';
import type { Shop } from './shop.ts';

export interface Session {
  readonly id: string;
  /** The device it was opened on; null when that one is not paired. */
  readonly deviceId: string | null;
  readonly signedInAt: Instant;
  readonly startedMs: number;
  /** The passphrase that it was opened with. */
  readonly passphraseAt: Instant;
  seenAt: Instant;
  seenMs: number;
}

export interface WaitingCode {
  readonly right: DeviceRight;
  readonly endsMs: number;
}

export interface Access {
  readonly shop: Pick<Shop, 'clock' | 'ledger' | 'turns' | 'live' | 'log' | 'makeId'>;
  readonly store: AccessStore;
  readonly secrets: Secrets;
  /** By the hash of the token. */
  readonly devices: Map<string, PairedDevice>;
  /** By the hash of the token. */
  readonly sessions: Map<string, Session>;
  readonly users: Map<string, SensorUser>;
  /** By the hash of the code. */
  readonly codes: Map<string, WaitingCode>;
  readonly limits: Readonly<
    Record<'passphrase' | 'pairing' | 'sensor' | 'write' | 'stranger' | 'audit' | 'log', Limiter>
  >;
  /** How fast one user's readings come in. */
  readonly pace: Pacer;
  /** When the passphrase in force was set; null before the first. */
  passphraseAt: Instant | null;
  /** Told of all that has lost its way in. */
  readonly listeners: ((ended: Ended) => void)[];
}
