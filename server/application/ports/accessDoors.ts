// The doors of access as adapters see them: who asks, what they may, and what managers do about it.
import type {
  AccessSetupWire,
  AccessWire,
  DeviceRight,
  Right,
  SensorPasswordWire,
  SensorUserBody,
  SensorUserKind,
} from '../../contract/index.ts';

/** Who asks. Without sign-in everybody may everything, and nobody is known. */
export interface Standing {
  readonly deviceId: string | null;
  readonly sessionId: string | null;
  readonly right: Right | null;
}

/** What a browser brings along. */
export interface Tokens {
  readonly device: string | null;
  readonly session: string | null;
}

/** Try again later. */
export interface Limited {
  readonly kind: 'limited';
  readonly retryAfterS: number;
}

export type Paired =
  { readonly kind: 'paired'; readonly token: string } | { readonly kind: 'refused' } | Limited;

export type SignedIn =
  | { readonly kind: 'signedIn'; readonly token: string }
  /** No passphrase was ever set: nobody on the network may be the first. */
  | { readonly kind: 'none' }
  | { readonly kind: 'refused' }
  | Limited;

export type Changed = { readonly kind: 'changed' } | { readonly kind: 'refused' } | Limited;

export type Done = 'done' | 'unknown' | 'taken' | 'full';

/** A user of sensors that has shown its password. */
export interface KnownUser {
  readonly name: string;
  readonly kind: SensorUserKind;
  readonly sensorIds: readonly string[];
}

export type UserKnown =
  { readonly kind: 'known'; readonly user: KnownUser } | { readonly kind: 'refused' } | Limited;

/** What has lost its way in: whoever holds something open for it lets it go. */
export interface Ended {
  readonly kind: 'device' | 'session' | 'sensorUser';
  readonly id: string;
}

/** Name and password of a machine, and where it comes from. */
export interface Credentials {
  readonly name: string;
  readonly password: string;
  readonly source: string;
}

/** Which requests are meant for this shop. */
export interface Origins {
  /** Whether a request was sent to us by name or number, and by a page of ours where it names one. */
  isOurs(headers: {
    host?: string | undefined;
    origin?: string | undefined;
    'sec-fetch-site'?: string | string[] | undefined;
    'sec-fetch-mode'?: string | string[] | undefined;
  }): boolean;
  /** The address for other devices, from the one under which a manager has come. */
  addressFor(host: string): string;
}

/** Methods that write throw PortFailure when the store did not do its work. `source` is an address, for limits alone. */
export interface AccessDoors {
  /** Who brings these tokens; a write keeps a manager's session awake. */
  findStanding(tokens: Tokens, isWriting: boolean): Standing;
  /** Null while one may write so much; else how long to wait. */
  takeWrite(who: string, bodyBytes: number): Limited | null;
  /** Notes that somebody without the right for it asked; null while they may go on asking. */
  takeStranger(source: string): Limited | null;
  readAccess(standing: Standing, tls: boolean): Promise<AccessWire>;
  makePairing(right: DeviceRight): { readonly code: string; readonly validMin: number } | null;
  pair(ask: { code: string; name: string; source: string; tokens: Tokens }): Promise<Paired>;
  signIn(ask: { passphrase: string; source: string; tokens: Tokens }): Promise<SignedIn>;
  signOut(standing: Standing): Promise<void>;
  changePassphrase(ask: {
    current: string;
    next: string;
    source: string;
    standing: Standing;
  }): Promise<Changed>;
  renameDevice(ask: { deviceId: string; name: string }): Promise<Done>;
  endDevice(deviceId: string): Promise<Done>;
  endSession(sessionId: string): Promise<Done>;
  makeSensorUser(body: SensorUserBody): Promise<SensorPasswordWire | Done>;
  putSensorUser(name: string, sensorIds: readonly string[]): Promise<Done>;
  renewPassword(name: string): Promise<SensorPasswordWire | Done>;
  endSensorUser(name: string): Promise<Done>;
  /** A password shown by a machine. */
  knowUser(credentials: Credentials): UserKnown;
  /** Whether a user that was known still is, with the topics of now. */
  findUser(name: string): KnownUser | null;
  /** How long the next message of a user waits [ms], by its size: one that floods is slowed down, and loses nothing. */
  paceUser(name: string, payloadBytes: number): number;
  readSetup(
    standing: Standing,
  ): Promise<Pick<AccessSetupWire, 'devices' | 'sessions' | 'sensorUsers' | 'log'>>;
}
