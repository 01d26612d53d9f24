// What people do to a batch: each tap becomes one command under one key, stamped with its time.
import type { AlertWire, BatchCommandWire, BatchWire } from '../../server/contract/index.ts';
import { readShopNow } from '../feed/clock.ts';
import { isLoneTap } from '../feed/tapGuard.ts';
import { submit } from '../feed/outbox.ts';
import { alertName } from '../format/alertText.ts';
import { $busyBatchIds } from '../state/computed.ts';
import { $device } from '../state/device.ts';
import type { KeptBody } from '../state/kept.ts';
import { $dialog, $kept, $toast, $words } from '../state/sources.ts';

type Without<T> = T extends unknown ? Omit<T, 'at' | 'by' | 'expectedVersion'> : never;

/** A command before its time, person and version are filled in. */
export type Act = Without<BatchCommandWire>;

const MS_PER_MIN = 60_000;

/** Sends an act on a batch, dated back by some minutes; a second tap while one is under way is the same tap. */
export function actOnBatch(batch: BatchWire, act: Act, agoMin = 0): void {
  if ($busyBatchIds.peek().has(batch.id) || !isLoneTap()) return;
  const isFirstKept = !$kept.peek().some(({ body }) => body.kind === 'command' && body.batchId === batch.id);
  const command = {
    ...act,
    at: new Date(notBefore(batch, readShopNow() - agoMin * MS_PER_MIN)).toISOString(),
    // A later act of a kept row cannot know the version that the earlier one will bring.
    ...(isFirstKept ? { expectedVersion: batch.version } : {}),
    ...byPerson(),
  } as BatchCommandWire;
  const seenSequence = batch.lastAct?.factSequence ?? 0;
  void enter({ kind: 'command', batchId: batch.id, command, seenSequence }, batch.panel);
}

/** Takes back an act by its fact. */
export function undoAct(undo: { batchId: string; factSequence: number; panel: string }): void {
  $toast.value = null;
  const command: BatchCommandWire = {
    type: 'undo',
    factSequence: undo.factSequence,
    at: new Date(readShopNow()).toISOString(),
    ...byPerson(),
  };
  const seenSequence = undo.factSequence;
  void enter({ kind: 'command', batchId: undo.batchId, command, seenSequence }, undo.panel);
}

/** A "no" leaves the sheet behind More as it stands, with all that was typed; else it has done its work. */
async function enter(body: Extract<KeptBody, { kind: 'command' }>, panel: string): Promise<void> {
  const outcome = await submit(body, panel);
  const dialog = $dialog.peek();
  if (outcome !== 'refused' && dialog?.kind === 'more' && dialog.batchId === body.batchId)
    $dialog.value = null;
}

/** Tells everyone that an alert was seen. */
export function acknowledgeAlert(alert: AlertWire): void {
  void submit({ kind: 'acknowledgement', alertId: alert.id }, alertName(alert, $words.peek()));
}

function byPerson(): { readonly by?: string } {
  const { person } = $device.peek();
  return person === null ? {} : { by: person };
}

/** Nothing happens to a batch before it was mixed: a tap in the first seconds is not dated before it. */
function notBefore(batch: BatchWire, wantedAt: number): number {
  return Math.max(wantedAt, Date.parse(batch.mixedAt));
}
