// Reads the plan of next hands for as long as a screen shows it: after each change, and each minute of the shop.
import { effect } from '@preact/signals';
import type { PlanWire } from '../../server/contract/index.ts';
import { $plan, $planBasis } from '../state/floor.ts';
import { getJson } from './http.ts';

/** Changes that come thick and fast are answered by one read. */
const REST_MS = 700;

/** Follows the plan until the returned function is called. */
export function followPlan(): () => void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  let isFollowing = true;
  let isFirst = true;
  const read = async (): Promise<void> => {
    timer = null;
    const answer = await getJson('/plan');
    if (isFollowing && answer.kind === 'answered' && isPlan(answer.body)) $plan.value = answer.body;
  };
  const stop = effect(() => {
    if ($planBasis.value === '') return;
    timer ??= setTimeout(() => void read(), isFirst ? 0 : REST_MS);
    isFirst = false;
  });
  return () => {
    isFollowing = false;
    stop();
    if (timer !== null) clearTimeout(timer);
  };
}

function isPlan(value: unknown): value is PlanWire {
  return Array.isArray((value as Partial<PlanWire> | null)?.entries);
}
