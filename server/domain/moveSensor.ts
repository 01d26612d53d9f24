// A sensor that is hung in a bay, taken down, called otherwise or put right: its stays, so that what it said elsewhere
// stays the air of the bay where it said it.
import type { Instant } from '../contract/index.ts';
import { instantAfter } from './minutes.ts';
import type { SensorSetting, SensorStay, SettingsChange } from './settingsChange.ts';

/** What is asked of a sensor; what is left out stays as it is. */
export interface SensorAsked {
  /** Null takes it out of its bay. */
  readonly bayId?: string | null | undefined;
  readonly name?: string | null | undefined;
  readonly airTemperatureOffsetK?: number | undefined;
  readonly relativeHumidityOffsetPct?: number | undefined;
}

type SensorChange = Extract<SettingsChange, { part: 'sensor' }>;

/**
 * What a sensor without a bay has said for so long counts for the bay in which it is hung [min]: as long as most films
 * cure. Before that it may have lain in the office.
 */
export const TAKEN_IN_MIN = 120;

/** The change that makes of a sensor what is asked; null when it is that already. */
export function moveSensor(held: SensorSetting, asked: SensorAsked, nowAt: Instant): SensorChange | null {
  const bayId = asked.bayId === undefined ? (currentStay(held)?.bayId ?? null) : asked.bayId;
  const name = asked.name === undefined ? held.name : asked.name;
  const stays = correct(hang(held.stays, bayId, nowAt), asked);
  const paths = pathsOf(held, { name, stays });
  if (paths.length === 0) return null;
  return {
    part: 'sensor',
    paths: paths.map((path) => `sensors.${held.sensorId}.${path}`),
    sensor: { sensorId: held.sensorId, name, stays },
  };
}

/** Where a sensor hangs now; null when nowhere. */
export function currentStay({ stays }: Pick<SensorSetting, 'stays'>): SensorStay | null {
  const last = stays.at(-1);
  return last === undefined || last.untilAt !== null ? null : last;
}

function hang(stays: readonly SensorStay[], bayId: string | null, nowAt: Instant): readonly SensorStay[] {
  const current = currentStay({ stays });
  if ((current?.bayId ?? null) === bayId) return stays;
  const before = current === null ? stays : [...stays.slice(0, -1), { ...current, untilAt: nowAt }];
  if (bayId === null) return before;
  const last = before.at(-1);
  const { airTemperatureOffsetK, relativeHumidityOffsetPct } = last ?? NO_OFFSETS;
  const fromAt = Math.max(last?.untilAt ?? 0, instantAfter(nowAt, -TAKEN_IN_MIN)) as Instant;
  return [...before, { bayId, fromAt, untilAt: null, airTemperatureOffsetK, relativeHumidityOffsetPct }];
}

/** Offsets are of the sensor as it hangs now: what it said in this bay is put right from the start, other stays stay. */
function correct(
  stays: readonly SensorStay[],
  { airTemperatureOffsetK, relativeHumidityOffsetPct }: SensorAsked,
): readonly SensorStay[] {
  const current = currentStay({ stays });
  if (current === null) return stays;
  return [
    ...stays.slice(0, -1),
    {
      ...current,
      airTemperatureOffsetK: airTemperatureOffsetK ?? current.airTemperatureOffsetK,
      relativeHumidityOffsetPct: relativeHumidityOffsetPct ?? current.relativeHumidityOffsetPct,
    },
  ];
}

function pathsOf(held: SensorSetting, wanted: Pick<SensorSetting, 'name' | 'stays'>): string[] {
  const was = currentStay(held);
  const becomes = currentStay(wanted);
  // Of a sensor that is hung or taken down only that is told.
  const isSameBay = was?.bayId === becomes?.bayId;
  const hasChanged = (field: 'airTemperatureOffsetK' | 'relativeHumidityOffsetPct'): boolean =>
    isSameBay && was?.[field] !== becomes?.[field];
  return [
    ...(isSameBay ? [] : ['bayId']),
    ...(held.name === wanted.name ? [] : ['name']),
    ...(hasChanged('airTemperatureOffsetK') ? ['airTemperatureOffsetK'] : []),
    ...(hasChanged('relativeHumidityOffsetPct') ? ['relativeHumidityOffsetPct'] : []),
  ];
}

const NO_OFFSETS = { airTemperatureOffsetK: 0, relativeHumidityOffsetPct: 0 } as const;
