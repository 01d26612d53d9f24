// First hop of a reading that comes by MQTT: the topic names the sensor, the payload is parsed or refused.
import { BODY_BYTES_MAX, idField, parseReadings } from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { RefusedList } from './refusedList.ts';

export interface ReceiveContext {
  readonly doors: Doors;
  readonly refused: RefusedList;
  readonly topicPrefix: string;
}

/** Takes one publish. What cannot be read is counted, shown and acknowledged: sending it again would not mend it. */
export async function receiveReading(
  packet: { readonly topic: string; readonly payload: string | Buffer },
  { doors, refused, topicPrefix }: ReceiveContext,
): Promise<void> {
  const nowAt = doors.nowAt();
  const refuse = (reason: string): void =>
    refused.add({ nowAt, topic: packet.topic, reason, payload: packet.payload });
  const sensorId = packet.topic.slice(`${topicPrefix}/readings/`.length);
  if (!packet.topic.startsWith(`${topicPrefix}/readings/`) || !idField.safeParse(sensorId).success) {
    return refuse('topic names no sensor');
  }
  if (packet.payload.length > BODY_BYTES_MAX) return refuse(`is larger than ${BODY_BYTES_MAX} bytes`);
  let input: unknown;
  try {
    input = JSON.parse(packet.payload.toString());
  } catch {
    return refuse('is not JSON');
  }
  const parsed = parseReadings(input, { format: 'any', topicSensorId: sensorId, nowAt });
  if (parsed.kind === 'rejected') {
    const [first] = parsed.rejections;
    return refuse(`${first?.path ?? ''}: ${first?.reason ?? ''}; allowed: ${first?.allowed ?? ''}`);
  }
  await doors.recordReading(parsed.value);
}
