// Sends readings at a pace by MQTT and HTTP, and remembers which were acknowledged and how long that took.
import { Agent, request } from 'node:http';
import mqtt from 'mqtt';
import { type Summary, summaryOf } from './loadFigures.ts';

export interface Sensor {
  readonly sensorId: string;
  readonly bayId: string;
}

export interface SendOptions {
  readonly mqttPort: number;
  readonly topicPrefix: string;
  /** Null where there is only a broker. */
  readonly address: string | null;
  readonly sensors: readonly Sensor[];
  readonly readingsPerS: number;
  readonly durationS: number;
}

export interface Sent {
  readonly sentCount: number;
  /** Instants of acknowledged readings by sensor, as they were sent. */
  readonly acknowledged: ReadonlyMap<string, readonly string[]>;
  readonly failedCount: number;
  readonly ackMs: Summary;
  readonly httpMs: Summary;
}

const TICK_MS = 10;
const MQTT_CLIENTS_COUNT = 8;
/** Every so many readings one goes by HTTP. */
const HTTP_EVERY_COUNT = 4;
const SEED = 8;

/** Sends for a while and waits for what is under way. */
export async function sendReadings(options: SendOptions): Promise<Sent> {
  const { mqttPort, sensors, readingsPerS, durationS } = options;
  const clients = await Promise.all(
    Array.from({ length: MQTT_CLIENTS_COUNT }, async () => mqtt.connectAsync(`mqtt://127.0.0.1:${mqttPort}`)),
  );
  const acknowledged = new Map<string, string[]>(sensors.map(({ sensorId }) => [sensorId, []]));
  const ackMs: number[] = [];
  const httpMs: number[] = [];
  const next = makeNext(options);
  const underWay = new Set<Promise<void>>();
  let sentCount = 0;
  let failedCount = 0;
  const begunMs = performance.now();
  const send = async (index: number): Promise<void> => {
    const { sensorId, body } = next(index);
    const isByHttp = options.address !== null && index % HTTP_EVERY_COUNT === 0;
    const client = clients[index % MQTT_CLIENTS_COUNT] as (typeof clients)[number];
    const sentMs = performance.now();
    try {
      if (isByHttp) await post(options.address, { sensorId, ...body });
      else {
        const topic = `${options.topicPrefix}/readings/${sensorId}`;
        await client.publishAsync(topic, JSON.stringify(body), { qos: 1 });
      }
      (isByHttp ? httpMs : ackMs).push(performance.now() - sentMs);
      acknowledged.get(sensorId)?.push(body.at);
    } catch {
      failedCount += 1;
    }
  };
  while (performance.now() - begunMs < durationS * 1000) {
    const dueCount = Math.floor(((performance.now() - begunMs) / 1000) * readingsPerS);
    for (; sentCount < dueCount; sentCount += 1) {
      const sending = send(sentCount);
      underWay.add(sending);
      void sending.finally(() => underWay.delete(sending));
    }
    await new Promise((resolve) => setTimeout(resolve, TICK_MS));
  }
  await Promise.all(underWay);
  await Promise.all(clients.map(async (client) => client.endAsync()));
  return { sentCount, acknowledged, failedCount, ackMs: summaryOf(ackMs), httpMs: summaryOf(httpMs) };
}

interface Body {
  readonly at: string;
  readonly airTemperatureC: number;
  readonly relativeHumidityPct: number;
}

/** Bays that warm and cool within the hour, each at its own time, and sensors that waver by a few hundredths. */
function makeNext({ sensors }: SendOptions): (index: number) => { sensorId: string; body: Body } {
  let state = SEED;
  const wavering = (): number => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return state / 2 ** 31 - 0.5;
  };
  let lastAt = 0;
  return (index) => {
    const { sensorId, bayId } = sensors[index % sensors.length] as Sensor;
    // Two readings of one sensor in one millisecond would be one.
    lastAt = Math.max(Date.now(), index % sensors.length === 0 ? lastAt + 1 : lastAt);
    const turn = (lastAt / 3_600_000) * 2 * Math.PI + bayId.length + Number(bayId.split('-')[1]);
    const airTemperatureC = Math.round(100 * (16 + 3 * Math.sin(turn) + 0.1 * wavering())) / 100;
    const body = { at: new Date(lastAt).toISOString(), airTemperatureC, relativeHumidityPct: 55 };
    return { sensorId, body };
  };
}

/** Over a few connections that stay open, as gateways of sensors do. */
async function post(address: string | null, body: Body & { sensorId: string }): Promise<void> {
  const status = await new Promise<number | undefined>((resolve, reject) => {
    const asking = request(
      `${address}/api/v1/readings`,
      { method: 'POST', agent, headers: { 'content-type': 'application/json' } },
      (response) => {
        response.resume();
        response.once('end', () => resolve(response.statusCode));
      },
    );
    asking.once('error', reject);
    asking.end(JSON.stringify(body));
  });
  if (status !== 200) throw new Error(`status ${status}`);
}

const agent = new Agent({ keepAlive: true, maxSockets: 16 });
