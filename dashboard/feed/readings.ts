// What a screen reads only when asked: a bay's air.
import type { AirColumnsWire } from '../../server/contract/index.ts';
import { getJson } from './http.ts';

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
