// The board: every open panel on one time axis that moves by itself.
import { useEffect, useRef } from 'preact/hooks';
import type { BatchWire } from '../../../server/contract/index.ts';
import { formatClock } from '../../format/clock.ts';
import { $place } from '../../state/computed.ts';
import type { PanelGroup } from '../../state/floorGroups.ts';
import { $floorAt } from '../../state/floor.ts';
import { $words } from '../../state/sources.ts';
import { $shiftStyle, $ticks, percent, watchAxis } from './axis.ts';
import { Film } from './Film.tsx';
import { FloorRow } from './FloorRow.tsx';
import { CheckMark, PromiseFlag } from './marks.tsx';

/** The rows in their groups under one axis. */
export function FloorBoard({ groups }: { readonly groups: readonly PanelGroup[] }) {
  const { floor } = $words.value;
  return (
    <section class="board" aria-labelledby="board-title">
      <h2 id="board-title" class="hidden">
        {floor.panels}
      </h2>
      <AxisHead />
      <AxisLines />
      <NowLine />
      {groups.map(({ name, panels }) => (
        <Group key={name ?? ''} name={name} panels={panels} />
      ))}
    </section>
  );
}

function Group({ name, panels }: { readonly name: string | null; readonly panels: readonly BatchWire[] }) {
  return (
    <div class="board-group">
      {name === null ? null : <h3>{name}</h3>}
      <div class="board-body">
        <ol class="board-rows">
          {panels.map((batch) => (
            <FloorRow key={batch.id} batch={batch} />
          ))}
        </ol>
        <div class="films" aria-hidden="true">
          <div class="films-shifted" style={$shiftStyle}>
            {panels.map((batch) => (
              <Film key={batch.id} batch={batch} />
            ))}
          </div>
        </div>
      </div>
    </div>
  );
}

function AxisHead() {
  const clocks = useRef<HTMLDivElement>(null);
  useEffect(() => (clocks.current === null ? undefined : watchAxis(clocks.current)), []);
  return (
    <div class="axis-head" aria-hidden="true">
      <Legend />
      <div class="axis-clocks" ref={clocks}>
        <div class="axis-shifted" style={$shiftStyle}>
          {$ticks.value
            .filter(({ at }) => at % HALF_HOUR_MS === 0)
            .map(({ at, fraction }) => (
              <span class="axis-clock" key={at} style={{ left: percent(fraction) }}>
                {formatClock(at, $place.value)}
              </span>
            ))}
        </div>
        <NowSign />
      </div>
    </div>
  );
}

const HALF_HOUR_MS = 30 * 60_000;

function NowSign() {
  return (
    <span class="axis-now">{$words.value.floor.nowLine(formatClock($floorAt.value, $place.value))}</span>
  );
}

function AxisLines() {
  return (
    <div class="axis-lines" aria-hidden="true">
      <div class="axis-shifted" style={$shiftStyle}>
        {$ticks.value.map(({ at, fraction, isHour }) => (
          <span class="axis-line" key={at} data-hour={isHour} style={{ left: percent(fraction) }} />
        ))}
      </div>
    </div>
  );
}

/** In front of everything, as the hand of a clock. */
function NowLine() {
  return (
    <div class="axis-lines" data-front={true} aria-hidden="true">
      <span class="now-line" />
    </div>
  );
}

function Legend() {
  const { legend } = $words.value.floor;
  return (
    <div class="legend">
      <span class="legend-entry">
        <svg class="legend-window" viewBox="0 0 52 20" focusable="false">
          <path d="M1 19 C13 18.4 15 2 26 2 C37 2 39 18.4 51 19 Z" />
        </svg>
        {legend.window}
      </span>
      <span class="legend-entry">
        <span class="legend-rest" />
        {legend.rest}
      </span>
      <span class="legend-entry">
        <CheckMark outcome="gums" />
        {legend.gums}
      </span>
      <span class="legend-entry">
        <PromiseFlag clock="" isMissed={false} />
        {legend.flag}
      </span>
    </div>
  );
}
