// Ties the use cases to the doors through which adapters reach them.
import { acknowledgeAlert } from './application/acknowledgeAlert.ts';
import { putSettings } from './application/changeSettings.ts';
import { handleCommand, startBatch } from './application/handleCommand.ts';
import { makeCopy, openKeptCopy, readCopies } from './application/keepCopies.ts';
import { makeBackup } from './application/makeBackup.ts';
import { noteBroker } from './application/noteBroker.ts';
import type { Doors } from './application/ports/doors.ts';
import { readSettings } from './application/presentSettings.ts';
import { previewBatch, previewStart } from './application/previewEstimate.ts';
import { previewCard, putCard, readCard } from './application/putCard.ts';
import { putSensor } from './application/putSensor.ts';
import { readAirHistory } from './application/readAirHistory.ts';
import { readCost } from './application/readCost.ts';
import { readFigures } from './application/readFigures.ts';
import { readPlan } from './application/readPlan.ts';
import {
  readAlerts,
  readBatch,
  readBatches,
  readBays,
  readCards,
  readHealth,
  readSnapshot,
} from './application/readSnapshot.ts';
import { readRecordRows, readRecords, readRepairOrder } from './application/readRecords.ts';
import { readReliability } from './application/readReliability.ts';
import { recordReading } from './application/recordReading.ts';
import { readSensors } from './application/readSensors.ts';
import type { Shop } from './application/shop.ts';

/** Makes the doors of a shop. */
export function makeDoors(
  shop: Shop,
  { version, refused }: { version: string; refused: Doors['readRefusedPayloads'] },
): Doors {
  return {
    nowAt: () => shop.clock.nowAt(),
    recordReading: (readings) => recordReading(shop, readings),
    startBatch: (ask) => startBatch(shop, ask),
    handleCommand: (batchId, ask) => handleCommand(shop, batchId, ask),
    acknowledgeAlert: (alertId, ask) => acknowledgeAlert(shop, alertId, ask),
    previewStart: (body) => previewStart(shop, body),
    previewBatch: (body) => previewBatch(shop, body),
    readSnapshot: () => readSnapshot(shop),
    readAlerts: () => readAlerts(shop),
    readBatches: (which) => readBatches(shop, which),
    readBatch: (batchId) => readBatch(shop, batchId),
    readBays: () => readBays(shop),
    readAirHistory: (bayId, question) => readAirHistory(shop, bayId, question),
    readCost: (bayId, question) => readCost(shop, bayId, question),
    readCards: () => readCards(shop),
    readReliability: () => readReliability(shop),
    readRecords: (question) => readRecords(shop, question),
    readRepairOrder: (repairOrder) => readRepairOrder(shop, repairOrder),
    readRecordRows: (filter) => readRecordRows(shop, filter),
    readPlan: () => readPlan(shop),
    readSensors: () => readSensors(shop),
    readRefusedPayloads: refused,
    readHealth: () => readHealth(shop, version),
    readFigures: () => readFigures(shop),
    noteBroker: (isListening) => noteBroker(shop, isListening),
    readSettings: () => readSettings(shop),
    putSettings: (ask) => putSettings(shop, ask),
    readCard: (cardId) => readCard(shop, cardId),
    putCard: (cardId, ask) => putCard(shop, cardId, ask),
    previewCard,
    putSensor: (sensorId, ask) => putSensor(shop, sensorId, ask),
    makeBackup: () => makeBackup(shop),
    readCopies: () => readCopies(shop),
    makeCopy: (key) => makeCopy(shop, key),
    openKeptCopy: (name) => openKeptCopy(shop, name),
  };
}
