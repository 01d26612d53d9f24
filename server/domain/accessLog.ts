// Who came and went: the last facts of access, as one list for Setup. A fold of facts; it decides nothing.
import type { AccessAct, AccessDoor, Instant } from '../contract/index.ts';
import type { Fact, FactBodies } from './facts.ts';

export interface AccessEntry {
  readonly at: Instant;
  readonly act: AccessAct;
  /** Of the device or the sensors' user. */
  readonly name: string | null;
}

/** Newest first. */
export interface AccessLog {
  readonly entries: readonly AccessEntry[];
}

export const EMPTY_ACCESS_LOG: AccessLog = { entries: [] };
const ENTRIES_KEPT_COUNT = 50;

/** The list after one more fact of any kind; the same object when it changes nothing. */
export function foldAccess(log: AccessLog, fact: Fact): AccessLog {
  const told = entryOf(fact);
  if (told === null) return log;
  return { entries: [{ at: fact.at, ...told }, ...log.entries].slice(0, ENTRIES_KEPT_COUNT) };
}

function entryOf(fact: Fact): Omit<AccessEntry, 'at'> | null {
  switch (fact.type) {
    case 'DevicePaired':
      return { act: 'devicePaired', name: fact.body.name };
    case 'DeviceRenamed':
      return { act: 'deviceRenamed', name: fact.body.name };
    case 'DeviceEnded':
      return { act: 'deviceEnded', name: fact.body.name };
    case 'SignedIn':
      return { act: 'signedIn', name: null };
    case 'SessionEnded':
      return { act: 'sessionEnded', name: null };
    case 'SignInRefused':
      return { act: ACT_OF_DOOR[fact.body.door], name: fact.body.name };
    case 'PassphraseChanged':
      return { act: 'passphraseChanged', name: null };
    case 'SensorUserChanged':
      return { act: ACT_OF_CHANGE[fact.body.change], name: fact.body.name };
    default:
      return null;
  }
}

const ACT_OF_DOOR: Readonly<Record<AccessDoor, AccessAct>> = {
  passphrase: 'refusedPassphrase',
  pairing: 'refusedPairing',
  sensor: 'refusedSensor',
};

const ACT_OF_CHANGE: Readonly<Record<FactBodies['SensorUserChanged']['change'], AccessAct>> = {
  made: 'userMade',
  password: 'userPassword',
  topics: 'userTopics',
  ended: 'userEnded',
};
