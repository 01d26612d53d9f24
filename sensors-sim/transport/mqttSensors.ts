// The sensors' line to the broker: readings wait in a bounded list while it is down and are sent when it is back.
import { connect } from 'mqtt';
import type { Reading } from '../air/sensor.ts';
import { payloadOf } from '../payload.ts';
import type { SensorPlan } from '../scenarios/scenario.ts';
import { pause } from './pause.ts';

export interface MqttSensors {
  /** Takes readings to send, oldest first. */
  publish(readings: readonly Reading[]): void;
  /** Waits until everything taken is stored by the server, or for so long [ms]. */
  drain(forMs: number): Promise<void>;
}

/** Sensors on a broker. */
export function makeMqttSensors(
  { mqttUrl, topicPrefix }: { mqttUrl: string; topicPrefix: string },
  plans: readonly SensorPlan[],
  report: (line: string) => void,
): MqttSensors {
  const waiting: Reading[] = [];
  let underWayCount = 0;
  let backOffMs = BACK_OFF_MIN_MS;
  const client = connect(mqttUrl, {
    protocolVersion: 4,
    reconnectPeriod: BACK_OFF_MIN_MS,
    connectTimeout: 5000,
  });
  const send = (): void => {
    while (client.connected && waiting.length > 0 && underWayCount < UNDER_WAY_MESSAGES_MAX) {
      const reading = waiting.shift();
      if (reading === undefined) return;
      const format = plans.find(({ sensorId }) => sensorId === reading.sensorId)?.format ?? 'plain';
      const topic = `${topicPrefix}/readings/${reading.sensorId}`;
      underWayCount += 1;
      client.publish(topic, payloadOf(reading, format), { qos: 1 }, () => {
        underWayCount -= 1;
        send();
      });
    }
  };
  client.on('connect', () => {
    backOffMs = BACK_OFF_MIN_MS;
    client.options.reconnectPeriod = backOffMs;
    report('sensors are connected to the broker');
    send();
  });
  client.on('close', () => {
    backOffMs = Math.min(backOffMs * 2, BACK_OFF_MAX_MS);
    client.options.reconnectPeriod = backOffMs;
  });
  client.on('offline', () => report('the broker is away; readings wait'));
  // Without a listener an error would end the program; what follows from it is seen by close and offline.
  client.on('error', () => undefined);
  return {
    publish: (readings) => {
      waiting.push(...readings);
      if (waiting.length > WAITING_READINGS_MAX) {
        waiting.splice(0, waiting.length - WAITING_READINGS_MAX);
        report('the broker is away for long; the oldest readings are lost');
      }
      send();
    },
    drain: async (forMs) => {
      for (let waitedMs = 0; waitedMs < forMs && waiting.length + underWayCount > 0; waitedMs += 50)
        await pause(50);
    },
  };
}

const UNDER_WAY_MESSAGES_MAX = 50;
const WAITING_READINGS_MAX = 5000;
const BACK_OFF_MIN_MS = 250;
const BACK_OFF_MAX_MS = 5000;
