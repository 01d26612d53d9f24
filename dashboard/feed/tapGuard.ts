// A double tap is one tap: after an act the stack moves, and the second tap would hit another batch's button.

const QUIET_MS = 350;
const NEAR_PX = 24;

interface Tap {
  readonly tappedMs: number;
  readonly xPx: number;
  readonly yPx: number;
}

let current: Tap | null = null;
let lastAct: Tap | null = null;

/** Notes where each tap lands; presses of a key have no place and are never doubled. */
export function startTapGuard(): void {
  addEventListener(
    'click',
    (event) => {
      current =
        event.detail === 0 ? null : { tappedMs: performance.now(), xPx: event.clientX, yPx: event.clientY };
    },
    { capture: true },
  );
}

/** Whether the tap under way stands alone: not on the spot of an act that was tapped a moment ago. */
export function isLoneTap(): boolean {
  const isDoubled =
    current !== null &&
    lastAct !== null &&
    current.tappedMs - lastAct.tappedMs < QUIET_MS &&
    Math.hypot(current.xPx - lastAct.xPx, current.yPx - lastAct.yPx) < NEAR_PX;
  if (!isDoubled) lastAct = current;
  return !isDoubled;
}
