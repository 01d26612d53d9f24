// Floor: every open panel on one time axis, and beside it who is needed where next.
import { useEffect } from 'preact/hooks';
import { openDialog, setDevice } from '../../actions/deviceActs.ts';
import { enterWall, keepPlan } from '../../actions/floorActs.ts';
import { $mayWork } from '../../state/access.ts';
import { $openCount } from '../../state/computed.ts';
import { $device, type FloorOrder } from '../../state/device.ts';
import { $floorFilter, $floorGroups, $floorPeople, $isWall } from '../../state/floor.ts';
import { $live, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { SelectField } from '../Field.tsx';
import { FloorBoard } from './FloorBoard.tsx';
import { FloorWall } from './FloorWall.tsx';
import { NextHands } from './NextHands.tsx';
import './floor.css';
import './axis.css';
import './film.css';
import './hands.css';
import './wall.css';

/** The Floor screen, at a desk or on a wall. */
export function FloorScreen() {
  useEffect(keepPlan, []);
  return $isWall.value ? <FloorWall /> : <FloorDesk />;
}

function FloorDesk() {
  const { screen } = $words.value;
  const groups = $floorGroups.value;
  return (
    <div class="floor">
      <h1 class="hidden">{screen.floor}</h1>
      <FloorBar />
      {groups.length === 0 ? (
        <FloorBlank />
      ) : (
        <div class="floor-parts">
          <FloorBoard groups={groups} />
          <NextHands />
        </div>
      )}
    </div>
  );
}

function FloorBar() {
  const { floor } = $words.value;
  const { bayId, person } = $floorFilter.value;
  return (
    <div class="floor-bar">
      <ChipGroup<FloorOrder>
        label={floor.order}
        layout="row"
        chosen={$device.value.floorOrder}
        chips={[
          { value: 'promise', name: floor.byPromise },
          { value: 'bay', name: floor.byBay },
        ]}
        onChoose={(floorOrder) => setDevice({ floorOrder })}
      />
      <SelectField
        label={floor.bay}
        value={bayId ?? ''}
        options={[
          { value: '', name: floor.allBays },
          ...($live.value?.bays ?? []).map(({ id, name }) => ({ value: id, name })),
        ]}
        onInput={(chosen) => setDevice({ floorBayId: chosen === '' ? null : chosen })}
      />
      <SelectField
        label={floor.person}
        value={person ?? ''}
        options={[
          { value: '', name: floor.everyone },
          ...$floorPeople.value.map((initials) => ({ value: initials, name: initials })),
        ]}
        onInput={(chosen) => setDevice({ floorPerson: chosen === '' ? null : chosen })}
      />
      <button type="button" class="second wall-button" title={floor.wallHint} onClick={enterWall}>
        {floor.wall}
      </button>
    </div>
  );
}

function FloorBlank() {
  const { floor, mix } = $words.value;
  const isFiltered = $openCount.value > 0;
  return (
    <div class="blank">
      <p class="blank-title">{isFiltered ? floor.filtered : floor.empty}</p>
      <p>{isFiltered ? floor.filteredHint : floor.emptyHint}</p>
      {isFiltered ? (
        <button
          type="button"
          class="first big"
          onClick={() => setDevice({ floorBayId: null, floorPerson: null })}
        >
          {floor.showAll}
        </button>
      ) : $mayWork.value ? (
        <button
          type="button"
          class="first big"
          onClick={() => openDialog({ kind: 'mix', preset: {}, variant: 'full' })}
        >
          {mix.open}
        </button>
      ) : null}
    </div>
  );
}
