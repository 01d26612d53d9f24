// What browser tests of Bench share: batches on panels of their own, acts on them by others, slips and buttons by name.
import type { Page } from 'playwright-core';
import { startPanel } from './fillFloor.ts';
import { getJson, postJson } from './http.ts';

export interface BatchSeen {
  readonly id: string;
  readonly panel: string;
  readonly repairOrder: string | null;
  readonly stage: string;
  readonly spreadAt: string | null;
  readonly underlayMm: number;
  readonly thicknessMm: number;
}

/** The batches of a panel, open or not. */
export async function batchesOf(address: string, panel: string): Promise<BatchSeen[]> {
  const { body } = await getJson(address, '/batches');
  return (body['batches'] as BatchSeen[]).filter((batch) => batch.panel === panel);
}

/** Starts a batch on a panel and tells its id. */
export async function startOn(
  address: string,
  { panel, ...more }: { readonly panel: string } & Readonly<Record<string, unknown>>,
): Promise<string> {
  await startPanel(address, { panel, bayId: 'bay-2', ...more });
  const [batch] = await batchesOf(address, panel);
  if (batch === undefined) throw new Error('the batch is not there');
  return batch.id;
}

/** What another device does to a batch. */
export async function actElsewhere(
  address: string,
  { batchId, ...command }: { readonly batchId: string } & Readonly<Record<string, unknown>>,
): Promise<void> {
  const { status } = await postJson({ address, path: `/batches/${batchId}/commands` }, command);
  if (status !== 200) throw new Error(`the act was answered with ${status}`);
}

/** The slip of a panel or a timer. */
export function slipOf(page: Page, name: string): ReturnType<Page['getByRole']> {
  return page.getByRole('article', { name, exact: true });
}

/** A button by its whole name. */
export function button(page: Page, name: string): ReturnType<Page['getByRole']> {
  return page.getByRole('button', { name, exact: true });
}
