// Reads the config once at start: file, then environment; a wrong one stops the start with file, key and bounds.
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { instantFromMs, parseWith, type Rejection, UNSTATED_ON_CARDS } from '../../contract/index.ts';
import type { ShopFacts } from '../../application/ports/shopFacts.ts';
import type { CardStated } from '../../domain/card.ts';
import type { SensorSetting } from '../../domain/settingsChange.ts';
import { type Config, configSchema, cardsSchema } from './configSchema.ts';
import { type StorePlan, storePlanFrom } from './storeConfig.ts';

export interface Settings {
  readonly config: Config;
  readonly shop: ShopFacts;
  readonly cards: readonly CardStated[];
  readonly dataFolder: string;
  readonly storePlan: StorePlan;
}

/** A config that cannot be used; the message is one line for people. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';
}

/** Reads a config file and its cards; environment variables win over the file. */
export function readConfig(
  file: string,
  environment: Readonly<Record<string, string | undefined>>,
): Settings {
  const config = withFilesFrom(
    dirname(file),
    parseFile(file, configSchema, (json) => withEnvironment(json, environment)),
  );
  const cardsFile = resolve(dirname(file), config.cardsFile);
  const { cards } = parseFile(cardsFile, cardsSchema, (json) => json);
  return {
    config,
    shop: shopFactsFrom(config),
    cards: cards.map((card) => ({
      ...card,
      activationKJPerMol: card.activationKJPerMol ?? UNSTATED_ON_CARDS.activationKJPerMol,
      inductionActivationKJPerMol: UNSTATED_ON_CARDS.inductionActivationKJPerMol,
      humidityEffectPer10Pct: card.humidityEffectPer10Pct ?? UNSTATED_ON_CARDS.humidityEffectPer10Pct,
    })),
    dataFolder: resolve(config.dataFolder),
    storePlan: storePlanFrom(config, resolve(config.dataFolder)),
  };
}

/** One line that names the file, the first wrong key, the reason and what is allowed. */
export function describeRejections(file: string, rejections: readonly Rejection[]): string {
  const [first] = rejections;
  if (first === undefined) return file;
  const more = rejections.length > 1 ? ` (and ${rejections.length - 1} more)` : '';
  return `${file}: ${first.path === '' ? 'the file' : first.path}: ${first.reason}; allowed: ${first.allowed}${more}`;
}

/** Files of certificates are named from where the config lies. */
function withFilesFrom(folder: string, config: Config): Config {
  const place = <Part extends Config['http'] | Config['mqtt']>(part: Part): Part =>
    part.tls === undefined
      ? part
      : {
          ...part,
          tls: { certFile: resolve(folder, part.tls.certFile), keyFile: resolve(folder, part.tls.keyFile) },
        };
  return { ...config, http: place(config.http), mqtt: place(config.mqtt) };
}

function parseFile<T>(
  file: string,
  schema: Parameters<typeof parseWith<T>>[0],
  prepare: (json: unknown) => unknown,
): T {
  const parsed = parseWith(schema, prepare(readJson(file)));
  if (parsed.kind === 'rejected') throw new ConfigError(describeRejections(file, parsed.rejections));
  return parsed.value;
}

function readJson(file: string): unknown {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new ConfigError(`${file}: cannot be read (${(error as NodeJS.ErrnoException).code ?? 'error'})`);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new ConfigError(`${file}: is not JSON (${(error as Error).message})`);
  }
}

function withEnvironment(json: unknown, environment: Readonly<Record<string, string | undefined>>): unknown {
  if (typeof json !== 'object' || json === null) return json;
  const config = structuredClone(json) as Record<string, Record<string, unknown>>;
  // A variable that is set but empty is one that somebody meant to leave out.
  const set = Object.fromEntries(Object.entries(environment).filter(([, text]) => text !== ''));
  const { SANDBY_HTTP_PORT, SANDBY_MQTT_PORT, SANDBY_DATA, SANDBY_HOST } = set;
  if (SANDBY_HTTP_PORT !== undefined) config['http'] = { ...config['http'], port: Number(SANDBY_HTTP_PORT) };
  if (SANDBY_MQTT_PORT !== undefined) config['mqtt'] = { ...config['mqtt'], port: Number(SANDBY_MQTT_PORT) };
  if (SANDBY_DATA !== undefined) Object.assign(config, { dataFolder: SANDBY_DATA });
  if (SANDBY_HOST !== undefined) {
    config['http'] = { ...config['http'], host: SANDBY_HOST };
    config['mqtt'] = { ...config['mqtt'], host: SANDBY_HOST };
  }
  return config;
}

function shopFactsFrom(config: Config): ShopFacts {
  return {
    name: config.shop.name,
    timeZone: config.shop.timeZone,
    isSimulated: config.clock.kind === 'simulated',
    language: config.shop.language ?? 'en',
    units: config.shop.units ?? { temperature: 'C', length: 'mm', mass: 'g' },
    bays: config.bays.map(({ id, name, kind, movingAir, substrate }) => ({
      id,
      name,
      kind,
      isAirMoving: movingAir ?? false,
      substrate: substrate ?? 'steel',
    })),
    sensors: new Map(config.sensors.map(({ id, bayId }) => [id, sensorAlwaysIn(bayId, id)])),
    bayOfSensor: new Map(config.sensors.map((sensor) => [sensor.id, sensor.bayId])),
    lamps: config.lamps.map((lamp) => ({
      ...lamp,
      distances: lamp.distances.toSorted((a, b) => a.distanceCm - b.distanceCm),
    })),
    people: config.people.map(({ initials, name }) => ({ initials, name: name ?? null, isActive: true })),
    webhooks: (config.webhooks ?? []).map(({ id, name, url, events }) => ({
      id,
      name,
      url,
      events: events ?? null,
      // The config knows no past: whatever still stands is for it.
      sinceAt: instantFromMs(0),
      isRemoved: false,
    })),
    panels: config.panels,
    testProbability: config.alerts.testProbabilityPct / 100,
    isLearning: config.learning ?? true,
    alerts: alertSettingsFrom(config.alerts),
    isSounding: config.alerts.sound ?? true,
    beadGramsPer10Cm: null,
    beadOfCard: new Map(),
  };
}

/** What is left out is as design PRODUCT §4 says. */
function alertSettingsFrom(alerts: Config['alerts']): ShopFacts['alerts'] {
  const { spreadByS, waitingMin, slowingMin = 3, slowingPct = 20, sensorQuietMin = 10 } = alerts;
  return { spreadByS, waitingMin, slowingMin, slowingPct, sensorQuietMin };
}

/** The config knows no past: where it hangs a sensor, the sensor has always hung. */
function sensorAlwaysIn(bayId: string, sensorId: string): SensorSetting {
  const stay = { bayId, fromAt: null, untilAt: null, airTemperatureOffsetK: 0, relativeHumidityOffsetPct: 0 };
  return { sensorId, name: null, stays: [stay] };
}
