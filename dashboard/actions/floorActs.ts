// What people do on Floor: follow the plan, go to the wall and come back.
import { followPlan } from '../feed/plan.ts';
import { $isWallAsked } from '../state/floor.ts';

/** Keeps the plan fresh until the returned function is called. */
export function keepPlan(): () => void {
  return followPlan();
}

/** Turns this screen into a wall; the address keeps it so after a restart of the browser. */
export function enterWall(): void {
  history.pushState(null, '', '/floor?wall=1');
  $isWallAsked.value = true;
}

/** Turns the wall back into a desk. */
export function leaveWall(): void {
  history.pushState(null, '', '/floor');
  $isWallAsked.value = false;
}
