// Whoever works by keys never stands nowhere: where what had the focus goes away, the focus goes to what stood around it, or
// back to where it was before. It is marked as adrift there, so that a view that knows better may still take it further.

/** What people take for one place on the page. */
const PLACES = 'article, li, section, fieldset, [role="group"], dialog';
/** So far back a way is remembered. */
const TRAIL_COUNT = 8;

let held: readonly HTMLElement[] = [];
let trail: HTMLElement[] = [];

/** Watches the focus from now on. */
export function startFocusKeeper(): void {
  document.addEventListener('focusin', ({ target }) => {
    if (target instanceof HTMLElement) remember(target);
  });
  new MutationObserver(giveBack).observe(document.body, { childList: true, subtree: true });
}

function remember(target: HTMLElement): void {
  document.querySelector('[data-adrift]')?.removeAttribute('data-adrift');
  trail = [...trail.filter((one) => one !== target), target].slice(-TRAIL_COUNT);
  const path: HTMLElement[] = [];
  for (let place: HTMLElement | null = target; place !== null; place = place.parentElement) path.push(place);
  held = path;
}

function giveBack(): void {
  const [lost] = held;
  if (lost === undefined || lost.isConnected || document.activeElement !== document.body) return;
  const around = held.find((place) => place.isConnected && place.matches(PLACES));
  const before = trail.toReversed().filter((place) => place.isConnected);
  const main = document.querySelector<HTMLElement>('main[tabindex]');
  for (const goal of [around, ...before, main])
    if (goal !== undefined && goal !== null && takesFocus(goal)) {
      goal.dataset['adrift'] = 'true';
      return;
    }
}

function takesFocus(goal: HTMLElement): boolean {
  goal.focus({ preventScroll: true });
  if (document.activeElement !== document.body) return true;
  if (!goal.matches(PLACES)) return false;
  goal.tabIndex = -1;
  goal.focus({ preventScroll: true });
  return document.activeElement !== document.body;
}
