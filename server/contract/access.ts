// Access on the wire: who asks, pairing, signing in, and what a manager sees and sets of it.
import { z } from 'zod';
import { DEVICE_RIGHTS, PASSPHRASE_LIMITS, RIGHTS, SENSOR_USER_KINDS } from './accessTerms.ts';
import { idField, instantText, nameField } from './fields.ts';

const SENSORS_A_USER_COUNT_MAX = 200;
/** Longer than any code, however it is spaced. */
const CODE_CHARACTERS_MAX = 40;

/** What a door of access was knocked at in vain. */
export const ACCESS_DOORS = ['passphrase', 'pairing', 'sensor'] as const;

/** What the list of access tells of. */
export const ACCESS_ACTS = [
  'devicePaired',
  'deviceRenamed',
  'deviceEnded',
  'signedIn',
  'sessionEnded',
  'refusedPassphrase',
  'refusedPairing',
  'refusedSensor',
  'passphraseChanged',
  'userMade',
  'userPassword',
  'userTopics',
  'userEnded',
] as const;

export const accessSchema = z
  .object({
    kind: z.enum(['open', 'signIn']).meta({ description: 'open: no sign-in, this machine alone' }),
    right: z.enum(RIGHTS).nullable().meta({ description: 'null: this device is not paired' }),
    deviceName: z.string().nullable(),
    signedIn: z.boolean().meta({ description: 'as a manager, by passphrase' }),
    tls: z.boolean(),
    passphrase: z.boolean().meta({ description: 'whether one was ever set' }),
  })
  .meta({ id: 'Access' });

export const pairBody = z
  .strictObject({ code: z.string().min(1).max(CODE_CHARACTERS_MAX), name: nameField })
  .meta({ id: 'Pair' });

export const signInBody = z
  .strictObject({ passphrase: z.string().min(1).max(PASSPHRASE_LIMITS.charactersMax) })
  .meta({ id: 'SignIn' });

export const newPassphraseField = z
  .string()
  .min(PASSPHRASE_LIMITS.charactersMin)
  .max(PASSPHRASE_LIMITS.charactersMax);

export const passphraseBody = z
  .strictObject({
    current: z.string().min(1).max(PASSPHRASE_LIMITS.charactersMax),
    next: newPassphraseField,
  })
  .meta({ id: 'ChangePassphrase' });

export const pairingBody = z.strictObject({ right: z.enum(DEVICE_RIGHTS) }).meta({ id: 'AskPairing' });

export const pairingSchema = z
  .object({
    code: z.string(),
    right: z.enum(DEVICE_RIGHTS),
    address: z.string().meta({ description: 'opens the page of pairing with the code filled in' }),
    validMin: z.number(),
    picture: z.array(z.string()).meta({ description: 'the address as a QR code, a row a text: # is dark' }),
  })
  .meta({ id: 'Pairing' });

export const deviceNameBody = z.strictObject({ name: nameField }).meta({ id: 'RenameDevice' });

const deviceSchema = z.object({
  id: z.string(),
  name: z.string(),
  right: z.enum(DEVICE_RIGHTS),
  pairedAt: instantText,
  seenAt: instantText.meta({ description: 'to a few minutes' }),
});

const sessionSchema = z.object({
  id: z.string(),
  deviceName: z.string().nullable(),
  signedInAt: instantText,
  seenAt: instantText,
  mine: z.boolean(),
});

const sensorIdsField = z
  .array(idField)
  .max(SENSORS_A_USER_COUNT_MAX)
  .meta({ description: 'of a sensor: whose readings it may send; of a reader: empty' });

export const sensorUserBody = z
  .strictObject({ name: idField, kind: z.enum(SENSOR_USER_KINDS), sensorIds: sensorIdsField })
  .meta({ id: 'MakeSensorUser' });

export const sensorUserTopicsBody = z
  .strictObject({ sensorIds: sensorIdsField })
  .meta({ id: 'PutSensorUser' });

const sensorUserSchema = z.object({
  name: z.string(),
  kind: z.enum(SENSOR_USER_KINDS),
  sensorIds: z.array(z.string()),
  madeAt: instantText,
});

export const sensorPasswordSchema = z
  .object({ name: z.string(), password: z.string().meta({ description: 'told this once' }) })
  .meta({ id: 'SensorPassword' });

const accessEntrySchema = z.object({
  at: instantText,
  act: z.enum(ACCESS_ACTS),
  name: z.string().nullable(),
});

export const accessSetupSchema = z
  .object({
    devices: z.array(deviceSchema),
    sessions: z.array(sessionSchema),
    sensorUsers: z.array(sensorUserSchema),
    tls: z.object({ http: z.boolean(), mqtt: z.boolean() }),
    log: z.array(accessEntrySchema).meta({ description: 'the last ones, newest first' }),
  })
  .meta({ id: 'AccessSetup' });

export type AccessDoor = (typeof ACCESS_DOORS)[number];
export type AccessAct = (typeof ACCESS_ACTS)[number];
export type AccessWire = z.infer<typeof accessSchema>;
export type PairingWire = z.infer<typeof pairingSchema>;
export type SensorUserBody = z.infer<typeof sensorUserBody>;
export type SensorPasswordWire = z.infer<typeof sensorPasswordSchema>;
export type AccessSetupWire = z.infer<typeof accessSetupSchema>;
