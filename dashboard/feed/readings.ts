// What a screen reads only when asked: a bay's air, the sensors.
import type {
  AirColumnsWire,
  CardWire,
  RefusedPayload,
  ReliabilityWire,
  SensorWire,
} from '../../server/contract/index.ts';
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

/** What the shop has learned: its products, and how its promises were kept. */
export interface Learned {
  readonly cards: readonly CardWire[];
  readonly reliability: ReliabilityWire;
}

/** What the shop has learned so far; null when it could not be read. */
export async function readLearned(): Promise<Learned | null> {
  const [cards, reliability] = await Promise.all([getJson('/cards'), getJson('/reliability')]);
  if (cards.kind !== 'answered' || reliability.kind !== 'answered') return null;
  return {
    cards: (cards.body as { cards: CardWire[] }).cards,
    reliability: reliability.body as ReliabilityWire,
  };
}

/** The sensors and what could not be read from them; null when the list could not be had. */
export async function readSensors(): Promise<SensorList | null> {
  const answer = await getJson('/sensors');
  return answer.kind === 'answered' ? (answer.body as SensorList) : null;
}
