// What a screen reads only when asked: a bay's air, the sensors.
import type { AirColumnsWire, CardWire, RefusedPayload, SensorWire } from '../../server/contract/index.ts';
import { getJson } from './http.ts';

export interface SensorList {
  readonly sensors: readonly SensorWire[];
  readonly refused: readonly RefusedPayload[];
}

/** A bay's air between two instants, one row a minute; null when it could not be read. */
export async function readBayAir(
  bayId: string,
  span: { readonly fromAt: number; readonly untilAt: number },
): Promise<AirColumnsWire | null> {
  const query = new URLSearchParams({
    from: new Date(span.fromAt).toISOString(),
    to: new Date(span.untilAt).toISOString(),
    stepMin: '1',
  });
  const answer = await getJson(`/bays/${encodeURIComponent(bayId)}/air?${query.toString()}`);
  return answer.kind === 'answered' ? (answer.body as AirColumnsWire) : null;
}

/** The products with what was learned of each so far; null when they could not be read. */
export async function readLearned(): Promise<readonly CardWire[] | null> {
  const answer = await getJson('/cards');
  return answer.kind === 'answered' ? (answer.body as { cards: CardWire[] }).cards : null;
}

/** The sensors and what could not be read from them; null when the list could not be had. */
export async function readSensors(): Promise<SensorList | null> {
  const answer = await getJson('/sensors');
  return answer.kind === 'answered' ? (answer.body as SensorList) : null;
}
