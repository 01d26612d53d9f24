// Floor's alerts on the wall: without controls, two at a time, the others in turn.
import { $alerts, $outsideCount } from '../../state/alerts.ts';
import { pageOf } from '../../state/floorGroups.ts';
import { $pageTurnCount } from '../../state/floor.ts';
import { $words } from '../../state/sources.ts';
import { AlertNews, AlertSentence, AlertSign } from '../AlertLine.tsx';

/** So many stand side by side below the rows. */
const FIT_COUNT = 2;

/** The row of alerts; it takes no room while there is none. */
export function WallAlerts() {
  const { alert, floor } = $words.value;
  const { shown, index, count } = pageOf($alerts.value, {
    fitCount: FIT_COUNT,
    turnCount: $pageTurnCount.value,
  });
  const outsideCount = $outsideCount.value;
  return (
    <section class="wall-alerts" aria-label={alert.title}>
      <AlertNews />
      {shown.map((entry) => (
        <p class="alert" key={entry.id} data-kind={entry.kind}>
          <AlertSign kind={entry.kind} />
          <span class="alert-text">
            <AlertSentence alert={entry} />
          </span>
        </p>
      ))}
      {count === 1 ? null : <p class="wall-page">{floor.page(index + 1, count)}</p>}
      {outsideCount === 0 ? null : <p class="wall-page">{alert.outside(outsideCount)}</p>}
    </section>
  );
}
