// What is kept of who may use the shop, in the file of keys.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type {
  AccessStore,
  KeptPassphrase,
  PairedDevice,
  SensorUser,
} from '../../../application/ports/accessStore.ts';
import { makeAttempt } from '../attempt.ts';
import { keepable } from '../checkInput.ts';
import { isRetriableError } from './isRetriableError.ts';

/** Makes the store of a database that openKeyStore gave; whoever opened it closes it. */
export function makeSqliteAccess(database: DatabaseSyncInstance): AccessStore {
  const attempt = makeAttempt('keys', isRetriableError);
  const sql = prepareAll(database);
  return {
    readDevices: () =>
      attempt('readDevices', () => sql.devices.all().map((row) => ({ ...(row as PairedDevice) }))),
    putDevice: ({ id, name, right, tokenHash, pairedAt, seenAt }) =>
      attempt('putDevice', () => {
        sql.putDevice.run(id, keepable(name), right, tokenHash, pairedAt, seenAt);
      }),
    removeDevice: (deviceId) => attempt('removeDevice', () => void sql.removeDevice.run(deviceId)),
    readSensorUsers: () =>
      attempt('readSensorUsers', () => sql.users.all().map((row) => userFrom(row as UserRow))),
    putSensorUser: ({ name, kind, passwordHash, sensorIds, madeAt }) =>
      attempt('putSensorUser', () => {
        sql.putUser.run(keepable(name), kind, passwordHash, JSON.stringify(sensorIds), madeAt);
      }),
    removeSensorUser: (name) => attempt('removeSensorUser', () => void sql.removeUser.run(name)),
    readPassphrase: () =>
      attempt('readPassphrase', () => {
        const row = sql.passphrase.get() as PassphraseRow | undefined;
        return row === undefined ? null : { ...row, isTold: row.isTold === 1 };
      }),
    putPassphrase: ({ hash, changedAt, isTold }) =>
      attempt('putPassphrase', () => void sql.putPassphrase.run(hash, changedAt, isTold ? 1 : 0)),
    markPassphraseTold: (changedAt) => attempt('markPassphraseTold', () => void sql.markTold.run(changedAt)),
  };
}

type UserRow = Omit<SensorUser, 'sensorIds'> & { readonly sensorIds: string };
type PassphraseRow = Omit<KeptPassphrase, 'isTold'> & { readonly isTold: 0 | 1 };

function userFrom({ sensorIds, ...row }: UserRow): SensorUser {
  return { ...row, sensorIds: JSON.parse(sensorIds) as string[] };
}

function prepareAll(database: DatabaseSyncInstance) {
  return {
    devices: database.prepare(
      `SELECT id, name, access_right AS right, token_hash AS tokenHash, paired_at AS pairedAt, seen_at AS seenAt
       FROM devices`,
    ),
    putDevice: database.prepare(
      `INSERT INTO devices (id, name, access_right, token_hash, paired_at, seen_at) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (id) DO UPDATE SET name = excluded.name, seen_at = excluded.seen_at`,
    ),
    removeDevice: database.prepare(`DELETE FROM devices WHERE id = ?`),
    users: database.prepare(
      `SELECT name, kind, password_hash AS passwordHash, sensor_ids AS sensorIds, made_at AS madeAt
       FROM sensor_users`,
    ),
    putUser: database.prepare(
      `INSERT INTO sensor_users (name, kind, password_hash, sensor_ids, made_at) VALUES (?, ?, ?, ?, ?)
       ON CONFLICT (name) DO UPDATE SET password_hash = excluded.password_hash, sensor_ids = excluded.sensor_ids`,
    ),
    removeUser: database.prepare(`DELETE FROM sensor_users WHERE name = ?`),
    passphrase: database.prepare(`SELECT hash, changed_at AS changedAt, is_told AS isTold FROM passphrase`),
    putPassphrase: database.prepare(
      `INSERT INTO passphrase (id, hash, changed_at, is_told) VALUES (1, ?, ?, ?)
       ON CONFLICT (id) DO UPDATE SET hash = excluded.hash, changed_at = excluded.changed_at,
         is_told = excluded.is_told`,
    ),
    markTold: database.prepare(`UPDATE passphrase SET is_told = 1 WHERE changed_at = ?`),
  };
}
