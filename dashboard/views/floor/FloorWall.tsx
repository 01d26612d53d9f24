// Floor on a wall: no controls, large enough for four metres; more panels than fit turn their pages by themselves.
import { useEffect, useRef, useState } from 'preact/hooks';
import { leaveWall } from '../../actions/floorActs.ts';
import { formatDegraded } from '../../format/degradedText.ts';
import { formatPlain } from '../../format/numbers.ts';
import { $isRingLocked } from '../../state/alerts.ts';
import { $degraded, $place } from '../../state/computed.ts';
import { $floorFilter, $floorGroups, $pageTurnCount } from '../../state/floor.ts';
import { pageOf } from '../../state/floorGroups.ts';
import { $connection, $live, $words } from '../../state/sources.ts';
import { AirStrip } from '../AirStrip.tsx';
import { SmallSign } from '../shapes.tsx';
import { FloorBoard } from './FloorBoard.tsx';
import { WallHands } from './NextHands.tsx';
import { WallAlerts } from './WallAlerts.tsx';

/** A row holds two lines of 28 px. */
const ROW_PX = 88;
/** The axis above the rows. */
const HEAD_PX = 88;

/** The wall; Esc brings the desk back. */
export function FloorWall() {
  const { screen, floor } = $words.value;
  const panels = $floorGroups.value.flatMap((group) => group.panels);
  const [fitCount, room] = useFitCount();
  const page = pageOf(panels, { fitCount, turnCount: $pageTurnCount.value });
  useEscape(leaveWall);
  return (
    <div class="wall">
      <div class="wall-head">
        <h1>{$live.value?.shop.name ?? screen.floor}</h1>
        <WallSigns />
        <AirStrip />
        {page.count === 1 ? null : <p class="wall-page">{floor.page(page.index + 1, page.count)}</p>}
      </div>
      <div class="wall-parts">
        <div class="wall-room" ref={room}>
          {panels.length === 0 ? (
            <div class="blank">
              <p class="blank-title">{floor.empty}</p>
            </div>
          ) : (
            <FloorBoard groups={[{ name: null, panels: page.shown }]} />
          )}
        </div>
        <WallHands />
      </div>
      <WallAlerts />
    </div>
  );
}

function WallSigns() {
  const { header, connection, floor, alarm } = $words.value;
  const live = $live.value;
  const { bayId, person } = $floorFilter.value;
  // From four metres one line is enough: the rest stands where somebody can mend it.
  const [worst] = formatDegraded($degraded.value, { words: $words.value, isEntering: false });
  const only = [live?.bays.find(({ id }) => id === bayId)?.name, person].filter(
    (part) => part !== null && part !== undefined,
  );
  return (
    <div class="wall-signs" role="status">
      {live?.shop.simulated === true ? (
        <span class="simulated-badge">{header.simulated(formatPlain(live.rate, $place.value.locale))}</span>
      ) : null}
      {only.length === 0 ? null : <span class="simulated-badge">{floor.onlyShown(only.join(', '))}</span>}
      {$isRingLocked.value ? (
        <span class="wall-silent">
          <SmallSign name="silent" />
          {alarm.lockedWall}
        </span>
      ) : null}
      {$connection.value === 'lost' ? (
        <span class="wall-trouble">
          <SmallSign name="off" />
          {connection.lost}
        </span>
      ) : null}
      {worst === undefined ? null : (
        <span class="wall-trouble">
          <SmallSign name="stop" />
          <span>{worst}</span>
        </span>
      )}
    </div>
  );
}

/** How many rows the room holds, followed as the window changes. */
function useFitCount() {
  const room = useRef<HTMLDivElement>(null);
  const [fitCount, setFitCount] = useState(1);
  useEffect(() => {
    const measured = room.current;
    if (measured === null) return undefined;
    const observer = new ResizeObserver(() =>
      setFitCount(Math.max(1, Math.floor((measured.clientHeight - HEAD_PX) / ROW_PX))),
    );
    observer.observe(measured);
    return () => observer.disconnect();
  }, []);
  return [fitCount, room] as const;
}

function useEscape(onEscape: () => void): void {
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') onEscape();
    };
    addEventListener('keydown', listen);
    return () => removeEventListener('keydown', listen);
  }, [onEscape]);
}
