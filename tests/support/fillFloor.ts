// Panels for Floor's browser tests: a cold bay, a warm one, and batches that began some minutes ago.
import { postJson } from './http.ts';

/** An instant some minutes ago, or ahead when negative, as text. */
export function ago(durationMin: number): string {
  return new Date(Date.now() - durationMin * 60_000).toISOString();
}

/** Six hours of a cold and a warm bay. */
export async function sayTwoBays(address: string): Promise<void> {
  for (let agoMin = 360; agoMin >= 0; agoMin -= 20) {
    const readings = [
      { sensorId: 'bay-1-air', at: ago(agoMin), airTemperatureC: 11, relativeHumidityPct: 50 },
      { sensorId: 'bay-2-air', at: ago(agoMin), airTemperatureC: 22, relativeHumidityPct: 45 },
    ];
    await postJson({ address, path: '/readings' }, readings);
  }
}

/** Starts a batch of body filler in the cold bay, with what is given in place of it. */
export async function startPanel(address: string, more: Record<string, unknown>): Promise<void> {
  const body = { cardId: 'body-filler', bayId: 'bay-1', thicknessMm: 2, substrate: 'steel', ...more };
  const { status } = await postJson({ address, path: '/batches' }, body);
  if (status !== 201) throw new Error(`the batch was answered with ${status}`);
}
