// The clock that the config asks for: the wall's, or a simulated day that goes on where the last start ended.
import type { AirTable } from './application/ports/airTable.ts';
import type { Clock } from './application/ports/clock.ts';
import type { Ledger } from './application/ports/ledger.ts';
import { localInstant } from './adapters/clock/localInstant.ts';
import { makePacedClock, makeWallClock } from './adapters/clock/pacedClock.ts';
import type { Settings } from './adapters/config/readConfig.ts';
import { type Instant, instantFromMs } from './contract/index.ts';
import type { Sequence } from './domain/facts.ts';

const FAR_FUTURE_AT = instantFromMs(8.64e15);

/** A simulated day goes on where the last start ended, so that what was recorded stays in the past. */
export async function makeShopClock(
  { config, shop }: Settings,
  { ledger, air }: { ledger: Ledger; air: AirTable },
): Promise<Clock> {
  if (config.clock.kind === 'wall') return makeWallClock();
  const { rate, startsAt } = config.clock;
  const head = await ledger.readHead();
  const [last] =
    head === 0 ? [] : await ledger.readFacts({ afterSequence: (head - 1) as Sequence, limit: 1 });
  const rows = await air.readLatest([...shop.bayOfSensor.keys()], FAR_FUTURE_AT);
  const known = [...rows.map((row) => row.recordedAt), ...(last === undefined ? [] : [last.recordedAt])];
  const firstAt = localInstant(startsAt, { timeZone: shop.timeZone, todayAt: instantFromMs(Date.now()) });
  const startAt = known.length === 0 ? firstAt : (Math.max(...known) as Instant);
  return makePacedClock({ startAt, rate });
}
