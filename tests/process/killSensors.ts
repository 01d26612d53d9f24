// Sensors that publish all the time to a server that is killed all the time: by MQTT and by HTTP, each reading once.
import mqtt from 'mqtt';
import type { RunningServer } from '../support/runServer.ts';

export interface Sensors {
  /** Sends at a pace until told to stop; what is under way then is not waited for. */
  sendTo(server: RunningServer): Promise<{ stop(): void }>;
  /** Acknowledged readings: sensor and instant. */
  readonly acknowledged: ReadonlySet<string>;
  readonly sentCount: number;
}

const EVERY_MS = 10;
const SENSOR_IDS = ['bay-1-air', 'bay-2-air'] as const;

/** Makes sensors that go on where they were stopped. */
export function makeSensors(): Sensors {
  const acknowledged = new Set<string>();
  let sentCount = 0;
  let lastAt = 0;

  async function send(client: mqtt.MqttClient, address: string): Promise<void> {
    const sensorId = SENSOR_IDS[sentCount % SENSOR_IDS.length] as string;
    const isByHttp = sentCount % 4 < 2;
    sentCount += 1;
    lastAt = Math.max(lastAt + 1, Date.now());
    const at = new Date(lastAt).toISOString();
    const body = { at, airTemperatureC: 20 + (sentCount % 50) / 100, relativeHumidityPct: 50 };
    try {
      if (isByHttp) {
        const response = await fetch(`${address}/api/v1/readings`, {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify({ sensorId, ...body }),
        });
        await response.arrayBuffer();
        if (response.status !== 200) return;
      } else {
        await client.publishAsync(`sandby/v1/readings/${sensorId}`, JSON.stringify(body), { qos: 1 });
      }
      acknowledged.add(`${sensorId} ${at}`);
    } catch {
      // The server is gone: nothing was promised of this one.
    }
  }

  return {
    acknowledged,
    get sentCount() {
      return sentCount;
    },
    async sendTo({ address, mqttPort }) {
      const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${mqttPort}`, { reconnectPeriod: 0 });
      client.on('error', () => undefined);
      const begunMs = performance.now();
      let sentHereCount = 0;
      const timer = setInterval(() => {
        // A machine that was busy makes up for it: the pace is what is promised.
        for (; sentHereCount < (performance.now() - begunMs) / EVERY_MS; sentHereCount += 1)
          void send(client, address);
      }, EVERY_MS);
      return {
        stop() {
          clearInterval(timer);
          client.end(true);
        },
      };
    },
  };
}
