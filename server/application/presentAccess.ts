// Access as Setup shows it: devices, sessions, users of sensors, and who came and went.
import { type AccessSetupWire, isoFromInstant } from '../contract/index.ts';
import { presentAccessLog, readAccessLog } from './accessAudit.ts';
import type { Access } from './accessParts.ts';
import type { Standing } from './ports/accessDoors.ts';

/** All of it, without any secret. */
export async function readAccessSetup(
  access: Access,
  { sessionId }: Standing,
): Promise<Pick<AccessSetupWire, 'devices' | 'sessions' | 'sensorUsers' | 'log'>> {
  const devices = [...access.devices.values()].toSorted((a, b) => a.name.localeCompare(b.name));
  return {
    devices: devices.map(({ id, name, right, pairedAt, seenAt }) => ({
      id,
      name,
      right,
      pairedAt: isoFromInstant(pairedAt),
      seenAt: isoFromInstant(seenAt),
    })),
    sessions: [...access.sessions.values()].map(({ id, deviceId, signedInAt, seenAt }) => ({
      id,
      deviceName: devices.find((device) => device.id === deviceId)?.name ?? null,
      signedInAt: isoFromInstant(signedInAt),
      seenAt: isoFromInstant(seenAt),
      mine: id === sessionId,
    })),
    sensorUsers: [...access.users.values()]
      .toSorted((a, b) => a.name.localeCompare(b.name))
      .map(({ name, kind, sensorIds, madeAt }) => ({
        name,
        kind,
        sensorIds: [...sensorIds],
        madeAt: isoFromInstant(madeAt),
      })),
    log: presentAccessLog(await readAccessLog(access.shop)),
  };
}
