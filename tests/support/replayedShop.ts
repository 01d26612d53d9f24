// The example shop as replays take it: its settings and calibrated cards, and a log that says nothing.
import { readConfig } from '../../server/adapters/config/readConfig.ts';
import { calibrateCards } from '../../server/application/openShop.ts';
import type { ReplayedShop } from '../../server/replayDiary.ts';

/** Opens the example shop for a replay. */
export function replayedShop(): ReplayedShop {
  const settings = readConfig('config/shop.example.json', {});
  const calibrated = calibrateCards(settings.cards);
  if (calibrated.kind === 'rejected') throw new Error('the shipped cards must calibrate');
  return { facts: settings.shop, cards: calibrated.cards, log: SILENT };
}

const SILENT = { info: () => undefined, warn: () => undefined, error: () => undefined };
