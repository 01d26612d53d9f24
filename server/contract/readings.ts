// Readings as sensors send them: SenML or a plain object, by any door, through this one parser.
import { z } from 'zod';
import { idField, instantField, limited } from './fields.ts';
import { type Instant, instantFromMs } from './instant.ts';
import { describeLimit, LIMITS, type LimitedField, READINGS_MAX } from './limits.ts';
import { parseWith, type Parsed, type Rejection } from './rejection.ts';
import { resolveSenml, type SenmlRecord } from './senml.ts';

/** What one sensor said of one instant; index is its place in the message. */
export interface Reading {
  readonly index: number;
  readonly sensorId: string;
  readonly at: Instant;
  readonly airTemperatureC?: number | undefined;
  readonly relativeHumidityPct?: number | undefined;
  readonly panelTemperatureC?: number | undefined;
}

type Measured = 'airTemperatureC' | 'relativeHumidityPct' | 'panelTemperatureC';

export interface ReadingsSource {
  readonly format: 'plain' | 'senml' | 'any';
  /** The sensor that the topic names; null where the payload must name it. */
  readonly topicSensorId: string | null;
  readonly nowAt: Instant;
}

export const plainReadingBody = z
  .strictObject({
    sensorId: idField.optional(),
    at: instantField.optional(),
    airTemperatureC: limited('airTemperatureC').optional(),
    relativeHumidityPct: limited('relativeHumidityPct').optional(),
    panelTemperatureC: limited('panelTemperatureC').optional(),
  })
  .meta({ id: 'Reading', description: 'At least one measured quantity; at is now when missing.' });

export const readingsAnswerSchema = z
  .object({
    recorded: z.int(),
    repeated: z.int(),
    setAside: z.array(z.object({ index: z.int(), reason: z.string() })),
  })
  .meta({ id: 'ReadingsAnswer' });

export type ReadingsAnswer = z.infer<typeof readingsAnswerSchema>;

/** Parses a message of readings; a single wrong one rejects the whole message and nothing of it is stored. */
export function parseReadings(input: unknown, source: ReadingsSource): Parsed<readonly Reading[]> {
  const entries: readonly unknown[] = Array.isArray(input) ? input : [input];
  if (entries.length === 0 || entries.length > READINGS_MAX) {
    return rejected({
      path: '',
      reason: `holds ${entries.length} readings`,
      allowed: `1 … ${READINGS_MAX} readings`,
    });
  }
  const isSenml =
    source.format === 'senml' || (source.format === 'any' && Array.isArray(input) && looksLikeSenml(entries));
  if (isSenml && !Array.isArray(input)) {
    return rejected({ path: '', reason: 'is not a SenML pack', allowed: 'an array of records' });
  }
  return isSenml
    ? parseSenml(entries, source)
    : parsePlain(entries, { source, isArray: Array.isArray(input) });
}

function looksLikeSenml(entries: readonly unknown[]): boolean {
  const [first] = entries;
  return (
    typeof first === 'object' &&
    first !== null &&
    ['bn', 'bt', 'bu', 'bv', 'bs', 'bver', 'n', 'u', 't', 'v', 'vs', 's'].some((key) => key in first)
  );
}

function parsePlain(
  entries: readonly unknown[],
  { source, isArray }: { source: ReadingsSource; isArray: boolean },
): Parsed<readonly Reading[]> {
  const readings: Reading[] = [];
  const rejections: Rejection[] = [];
  for (const [index, entry] of entries.entries()) {
    const prefix = isArray ? `${index}.` : '';
    const parsed = parseWith(plainReadingBody, entry);
    if (parsed.kind === 'rejected') {
      rejections.push(
        ...parsed.rejections.map((one) => ({ ...one, path: `${prefix}${one.path}`.replace(/\.$/, '') })),
      );
      continue;
    }
    const { sensorId, at, ...measured } = parsed.value;
    const wrong = wrongSensor(sensorId, source.topicSensorId) ?? wrongMeasured(measured);
    if (wrong !== null) rejections.push({ ...wrong, path: `${prefix}${wrong.path}` });
    else {
      readings.push(
        foldHumidity({
          index,
          sensorId: source.topicSensorId ?? (sensorId as string),
          at: at ?? source.nowAt,
          ...measured,
        }),
      );
    }
  }
  return rejections.length > 0 ? { kind: 'rejected', rejections } : { kind: 'parsed', value: readings };
}

function wrongSensor(sensorId: string | undefined, topicSensorId: string | null): Rejection | null {
  if (topicSensorId === null) {
    return sensorId === undefined
      ? { path: 'sensorId', reason: 'is missing', allowed: "the sensor's identifier" }
      : null;
  }
  if (sensorId === undefined || sensorId === topicSensorId) return null;
  return { path: 'sensorId', reason: "is not the topic's sensor", allowed: topicSensorId };
}

function wrongMeasured(measured: Partial<Record<Measured, number | undefined>>): Rejection | null {
  const hasOne = Object.values(measured).some((value) => value !== undefined);
  if (hasOne) return null;
  return {
    path: 'airTemperatureC',
    reason: 'no measured quantity is there',
    allowed: 'at least one of airTemperatureC, relativeHumidityPct, panelTemperatureC',
  };
}

function parseSenml(entries: readonly unknown[], source: ReadingsSource): Parsed<readonly Reading[]> {
  const resolved = resolveSenml(entries, source.nowAt / 1000);
  if (resolved.kind === 'rejected') return resolved;
  const rejections: Rejection[] = [];
  const readings: Reading[] = [];
  let unusedUnit: Rejection | null = null;
  for (const record of resolved.value) {
    const quantity = quantityOf(record);
    if (quantity === null) {
      unusedUnit ??= unknownUnit(record);
      continue;
    }
    const wrong = wrongRecord(record, { quantity, source });
    if (wrong !== null) rejections.push(wrong);
    else readings.push(readingFromRecord(record, { quantity, source }));
  }
  if (readings.length === 0 && rejections.length === 0 && unusedUnit !== null) rejections.push(unusedUnit);
  return rejections.length > 0 ? { kind: 'rejected', rejections } : { kind: 'parsed', value: readings };
}

/** By unit, as the contract says; another unit (a battery's volts) is not ours and is passed over. */
function quantityOf(record: SenmlRecord): Measured | null {
  if (record.u === 'Cel')
    return record.n.endsWith('panelTemperature') ? 'panelTemperatureC' : 'airTemperatureC';
  return record.u === '%RH' ? 'relativeHumidityPct' : null;
}

function unknownUnit(record: SenmlRecord): Rejection {
  const reason = record.u === undefined ? 'unit is missing' : 'is not a unit that is used here';
  return { path: `${record.index}.u`, reason, allowed: 'Cel, %RH' };
}

function wrongRecord(
  record: SenmlRecord,
  { quantity, source }: { quantity: Measured; source: ReadingsSource },
): Rejection | null {
  const limit = LIMITS[quantity satisfies LimitedField];
  const path = `${record.index}.v`;
  if (record.v === undefined) return { path, reason: 'is not a number', allowed: describeLimit(quantity) };
  if (record.v < limit.min) return { path, reason: 'is too small', allowed: describeLimit(quantity) };
  if (record.v > limit.max) return { path, reason: 'is too large', allowed: describeLimit(quantity) };
  if (source.topicSensorId === null && !idField.safeParse(sensorFromBase(record.baseName)).success) {
    return {
      path: `${record.index}.bn`,
      reason: 'does not name a sensor',
      allowed: 'the identifier, then a colon',
    };
  }
  if (!Number.isFinite(record.t) || Math.abs(record.t) > 1e11) {
    return { path: `${record.index}.t`, reason: 'is not a time', allowed: 'seconds' };
  }
  return null;
}

function readingFromRecord(
  record: SenmlRecord,
  { quantity, source }: { quantity: Measured; source: ReadingsSource },
): Reading {
  return foldHumidity({
    index: record.index,
    sensorId: source.topicSensorId ?? sensorFromBase(record.baseName),
    at: instantFromMs(record.t * 1000),
    [quantity]: record.v as number,
  });
}

function sensorFromBase(baseName: string): string {
  return baseName.endsWith(':') ? baseName.slice(0, -1) : baseName;
}

/** 100 … 104 % counts as 100 (common practice of one weather service, REFERENCES QC-5). */
function foldHumidity(reading: Reading): Reading {
  const humidity = reading.relativeHumidityPct;
  return humidity !== undefined && humidity > 100 ? { ...reading, relativeHumidityPct: 100 } : reading;
}

function rejected(rejection: Rejection): Parsed<never> {
  return { kind: 'rejected', rejections: [rejection] };
}
