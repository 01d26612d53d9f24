// Ties the use cases of access to the doors through which adapters reach them.
import { openAccess } from './application/access.ts';
import type { Access } from './application/accessParts.ts';
import { findStanding, readAccess, takeStranger, takeWrite } from './application/accessStanding.ts';
import { endDevice, makePairing, pairDevice, renameDevice } from './application/pairDevice.ts';
import type { AccessDoors, Ended } from './application/ports/accessDoors.ts';
import { readAccessSetup } from './application/presentAccess.ts';
import {
  endSensorUser,
  findUser,
  knowUser,
  makeSensorUser,
  paceUser,
  putSensorUser,
  renewPassword,
} from './application/sensorUsers.ts';
import { changePassphrase, endSession, signIn, signOut } from './application/signIn.ts';

/** Opens access for a shop that has it; `whenEnded` is told of everybody who has lost the way in. */
export async function makeAccessDoors(
  parts: Pick<Access, 'shop' | 'store' | 'secrets'>,
  whenEnded: (ended: Ended) => void,
): Promise<AccessDoors> {
  const access = await openAccess(parts);
  access.listeners.push(whenEnded);
  return {
    findStanding: (tokens, isWriting) => findStanding(access, tokens, isWriting),
    takeWrite: (who, bodyBytes) => takeWrite(access, who, bodyBytes),
    takeStranger: (source) => takeStranger(access, source),
    readAccess: (standing, tls) => readAccess(access, standing, tls),
    makePairing: (right) => makePairing(access, right),
    pair: (ask) => pairDevice(access, ask),
    signIn: (ask) => signIn(access, ask),
    signOut: (standing) => signOut(access, standing),
    changePassphrase: (ask) => changePassphrase(access, ask),
    renameDevice: (ask) => renameDevice(access, ask),
    endDevice: (deviceId) => endDevice(access, deviceId),
    endSession: (sessionId) => endSession(access, sessionId),
    makeSensorUser: (body) => makeSensorUser(access, body),
    putSensorUser: (name, sensorIds) => putSensorUser(access, name, sensorIds),
    renewPassword: (name) => renewPassword(access, name),
    endSensorUser: (name) => endSensorUser(access, name),
    knowUser: (credentials) => knowUser(access, credentials),
    findUser: (name) => findUser(access, name),
    paceUser: (name, payloadBytes) => paceUser(access, name, payloadBytes),
    readSetup: (standing) => readAccessSetup(access, standing),
  };
}
