// First hop of readings that come by HTTP: the same parser and the same door as for those that come by MQTT.
import type { Request, Response } from 'express';
import { parseReadings } from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import { sendProblem, sendRejections } from './problem.ts';

export const SENML_TYPE = 'application/senml+json';

/** POST /readings: answered after the readings are stored. */
export async function receiveReading(doors: Doors, request: Request, response: Response): Promise<void> {
  const format = request.is(SENML_TYPE) === false ? 'plain' : 'senml';
  const parsed = parseReadings(request.body, { format, topicSensorId: null, nowAt: doors.nowAt() });
  if (parsed.kind === 'rejected') return sendRejections(response, parsed.rejections);
  const { sensorUser } = request;
  const foreign = parsed.value.find(({ sensorId }) => sensorUser?.sensorIds.includes(sensorId) === false);
  if (foreign !== undefined) {
    const detail = `This user may not send readings of ${foreign.sensorId}.`;
    return sendProblem(response, 403, { code: 'not-your-sensor', detail });
  }
  response.json(await doors.recordReading(parsed.value));
}
