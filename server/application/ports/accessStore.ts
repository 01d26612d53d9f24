// What is kept of who may use the shop, and what makes and compares secrets. Nothing here is ever in a copy of the shop.
import type { DeviceRight, Instant, SensorUserKind } from '../../contract/index.ts';

export interface PairedDevice {
  readonly id: string;
  readonly name: string;
  readonly right: DeviceRight;
  readonly tokenHash: string;
  readonly pairedAt: Instant;
  readonly seenAt: Instant;
}

/** Signs in by name and password, at the broker or for POST /readings. */
export interface SensorUser {
  readonly name: string;
  readonly kind: SensorUserKind;
  readonly passwordHash: string;
  /** Whose readings it may send. */
  readonly sensorIds: readonly string[];
  readonly madeAt: Instant;
}

export interface KeptPassphrase {
  readonly hash: string;
  readonly changedAt: Instant;
  /** Whether the ledger has been told of the change. */
  readonly isTold: boolean;
}

/** Every method throws PortFailure when the store did not do its work. */
export interface AccessStore {
  readDevices(): Promise<readonly PairedDevice[]>;
  /** New, or in place of the one with its id. */
  putDevice(device: PairedDevice): Promise<void>;
  removeDevice(deviceId: string): Promise<void>;
  readSensorUsers(): Promise<readonly SensorUser[]>;
  putSensorUser(user: SensorUser): Promise<void>;
  removeSensorUser(name: string): Promise<void>;
  /** Null before the first one; another process may set it. */
  readPassphrase(): Promise<KeptPassphrase | null>;
  putPassphrase(kept: KeptPassphrase): Promise<void>;
  /** Notes that the ledger knows of the change of that instant; a later change stays untold. */
  markPassphraseTold(changedAt: Instant): Promise<void>;
}

export interface Secrets {
  /** 256 bits that nobody can guess, as a text for a cookie. */
  makeToken(): string;
  /** A short code that a person can read out. */
  makeCode(): string;
  /** A password for a machine: nobody chooses it, so that a plain digest of it is enough. */
  makePassword(): string;
  /** Of something that cannot be guessed. */
  digest(text: string): string;
  /** Compares two digests in a time that does not depend on where they differ. */
  isSame(left: string, right: string): boolean;
  /** Of something that a person chose: slow and hungry for memory on purpose. */
  hashPassphrase(passphrase: string): Promise<string>;
  isPassphrase(passphrase: string, hash: string): Promise<boolean>;
}
