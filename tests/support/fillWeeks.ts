// Two weeks of a bay's past in a store, up to an instant: cold mornings, one of them far colder, and batches on each.
import { openSqliteStore } from '../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { handleCommand, startBatch } from '../../server/application/handleCommand.ts';
import { recordReading } from '../../server/application/recordReading.ts';
import { type Instant, instantFromMs } from '../../server/contract/index.ts';
import { makeSimulatedClock } from './simulatedClock.ts';
import { done, openTestShop, PLAIN_BATCH } from './testShop.ts';

export interface FilledWeeks {
  /** Last week's Monday and Tuesday, at midnight. */
  readonly mondayAt: Instant;
  readonly tuesdayAt: Instant;
  /** Tuesday's car. */
  readonly tuesdayOrder: string;
}

const MIN_MS = 60_000;
const DAY_MS = 1440 * MIN_MS;
const READ_EVERY_MIN = 5;
/** Mixes of each working day, minutes after midnight. */
const MIXES_MIN = [435, 480, 545, 690, 830];
/** One car a day, numbered from the first. */
const FIRST_ORDER_COUNT = 4700;
const PANELS = ['Left front door', 'Bonnet', 'Sill', 'Roof', 'Boot lid'];

/** Fills the example shop's file from last week's Monday on; its days are UTC days. */
export async function fillWeeks(file: string, nowAt: Instant): Promise<FilledWeeks> {
  const todayAt = Math.floor(nowAt / DAY_MS) * DAY_MS;
  const backDays = ((new Date(todayAt).getUTCDay() + 6) % 7) + 7;
  const mondayAt = instantFromMs(todayAt - backDays * DAY_MS);
  const clock = makeSimulatedClock(mondayAt);
  const store = openSqliteStore({ file, ledgerIdForNew: 'filled' });
  const { shop } = await openTestShop({ clock, ...store });
  let keyCount = 0;
  for (let dayAt: number = mondayAt; dayAt < nowAt; dayAt += DAY_MS) {
    const weekday = new Date(dayAt).getUTCDay();
    const isTuesday = dayAt === mondayAt + DAY_MS;
    for (let hourMin = 0; hourMin < 1440; hourMin += 60) {
      if (dayAt + (hourMin + 60) * MIN_MS > nowAt) break;
      await clock.moveTo(instantFromMs(dayAt + (hourMin + 59) * MIN_MS));
      const readings = Array.from({ length: 60 / READ_EVERY_MIN }, (_, index) => {
        const minuteMin = hourMin + index * READ_EVERY_MIN;
        const airTemperatureC = airC(minuteMin, { isTuesday, isOff: weekday === 0 || weekday === 6 });
        const relativeHumidityPct = 88 - 2 * airTemperatureC;
        const at = instantFromMs(dayAt + minuteMin * MIN_MS);
        return { index, sensorId: 'bay-1-air', at, airTemperatureC, relativeHumidityPct };
      });
      await recordReading(shop, readings);
      const mixes =
        weekday === 0 || weekday === 6
          ? []
          : MIXES_MIN.filter((minute) => Math.floor(minute / 60) * 60 === hourMin);
      for (const minuteMin of mixes) {
        keyCount += 1;
        const batch = done(
          await startBatch(shop, {
            key: `fill-${keyCount}`,
            body: {
              ...PLAIN_BATCH,
              panel: PANELS[MIXES_MIN.indexOf(minuteMin)] ?? 'Sill',
              repairOrder: orderOf((dayAt - mondayAt) / DAY_MS),
              mixedAt: instantFromMs(dayAt + minuteMin * MIN_MS),
            },
          }),
        );
        await clock.moveBy(75);
        const close = {
          key: `close-${keyCount}`,
          body: { type: 'recordCheck', outcome: 'powders' } as const,
        };
        await handleCommand(shop, batch.id, close);
        await handleCommand(shop, batch.id, { key: `end-${keyCount}`, body: { type: 'finishSanding' } });
      }
    }
  }
  await shop.ledger.close();
  clock.stop();
  return { mondayAt, tuesdayAt: instantFromMs(mondayAt + DAY_MS), tuesdayOrder: orderOf(1) };
}

function orderOf(dayCount: number): string {
  return String(FIRST_ORDER_COUNT + dayCount);
}

/** Down to 9 °C by night, heated from half past six, warm by ten; on Tuesday far later; a door each noon. */
function airC(minuteMin: number, { isTuesday, isOff }: { isTuesday: boolean; isOff: boolean }): number {
  const wobbleC = 0.15 * Math.sin(minuteMin / 37);
  if (isOff) return 9 + wobbleC;
  const [startMin, coldC] = isTuesday ? [540, 5] : [390, 10];
  const warmedC = 19.5 - (19.5 - coldC) * Math.exp(-Math.max(0, minuteMin - startMin) / 75);
  const doorC = minuteMin >= 700 && minuteMin < 730 ? -4 + (minuteMin - 700) / 8 : 0;
  const cooledC = minuteMin > 1035 ? (warmedC - coldC) * (1 - Math.exp(-(minuteMin - 1035) / 240)) : 0;
  return Math.round(10 * (warmedC + doorC - cooledC + wobbleC)) / 10;
}
