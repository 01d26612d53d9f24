// Air: what a bay's climate was, what it cost in curing minutes, why, and what a warmer morning would take away.
import { chooseAir, stepAir } from '../../actions/airActs.ts';
import { findPeak } from '../../format/lossPeak.ts';
import { formatCost, formatWhen } from '../../format/airText.ts';
import { type AirSpan, mondayOf, shiftDate, spanOf, startOfDate } from '../../format/airSpan.ts';
import { $air } from '../../state/air.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $live, $nowAt, $words } from '../../state/sources.ts';
import { ChipGroup } from '../ChipGroup.tsx';
import { AddedBars } from './AddedBars.tsx';
import { CausesPart } from './CausesPart.tsx';
import { ClimatePart } from './ClimatePart.tsx';
import { SlowdownPart } from './SlowdownPart.tsx';
import { SlowMap } from './SlowMap.tsx';
import { type HeldCost, useCost } from './useCost.ts';
import { WhatIfPart } from './WhatIfPart.tsx';
import './air.css';

/** What goes on is read again this often, in real time [ms]. */
const AGAIN_EVERY_MS = 60_000;
/** Map and weeks look back over four weeks. */
const BACK_DAYS = 21;

/** The Air screen. */
export function AirScreen() {
  const { screen, airScreen } = $words.value;
  const live = $live.value;
  const bayId = chosenBay();
  return (
    <div class="air-screen">
      <h1>{screen.air}</h1>
      {live === null || bayId === null ? <p>{airScreen.noBays}</p> : <BayAir key={bayId} bayId={bayId} />}
    </div>
  );
}

function chosenBay(): string | null {
  const bays = $live.value?.bays ?? [];
  return (bays.find(({ id }) => id === $air.value.bayId) ?? bays[0])?.id ?? null;
}

function BayAir({ bayId }: { readonly bayId: string }) {
  const { kind, date, cardId, heatFrom, heatTo, heatC } = $air.value;
  const { timeZone } = $place.value;
  const live = $live.value;
  const nowAt = $nowAt.value;
  const span = spanOf({ kind, date, nowAt, timeZone });
  const restsOn = String(Math.floor(nowAt / (AGAIN_EVERY_MS * (live?.rate ?? 1))));
  const heat = { heatFrom, heatTo, heatC };
  const held = useCost(
    { bayId, fromAt: span.fromAt, untilAt: untilOf(span), cardId, ...heat },
    `${restsOn} ${kind}`,
  );
  const monday = mondayOf(span.date);
  const long = {
    fromAt: startOfDate({ date: shiftDate(monday, -BACK_DAYS), timeZone }),
    untilAt: Math.max(
      span.fromAt + 1,
      Math.min(nowAt, startOfDate({ date: shiftDate(monday, 7), timeZone })),
    ),
  };
  const heldLong = useCost(
    { bayId, ...long, cardId, heatFrom: '06:00', heatTo: '10:00', heatC: 18 },
    restsOn,
  );
  return (
    <>
      <AirChoices bayId={bayId} span={span} />
      <Told held={held} span={span} />
      {held.cost === null ? null : (
        <div class="air-parts">
          <div class="air-column">
            <SlowdownPart cost={held.cost} />
            <CausesPart cost={held.cost} />
            <WhatIfPart cost={held.cost} />
          </div>
          <div class="air-column">
            <ClimatePart cost={held.cost} />
            <div class="air-pair">
              {kind === 'week' ? <AddedBars kind="day" cost={held.cost} chosen={null} /> : null}
              {heldLong.cost === null ? null : (
                <AddedBars kind="week" cost={heldLong.cost} chosen={kind === 'week' ? monday : null} />
              )}
            </div>
            {heldLong.cost === null ? null : <SlowMap cost={heldLong.cost} />}
          </div>
        </div>
      )}
    </>
  );
}

/** A span that begins this very moment still has a length. */
function untilOf({ fromAt, untilAt }: AirSpan): number {
  return Math.max(untilAt, fromAt + 1);
}

function AirChoices({ bayId, span }: { readonly bayId: string; readonly span: AirSpan }) {
  const { airScreen } = $words.value;
  const { kind } = $air.value;
  const bays = $live.value?.bays ?? [];
  return (
    <div class="air-choices">
      {bays.length < 2 ? null : (
        <ChipGroup
          label={airScreen.bay}
          layout="dense"
          chips={bays.map(({ id, name }) => ({ value: id, name }))}
          chosen={bayId}
          onChoose={(value) => chooseAir({ bayId: value })}
        />
      )}
      <ChipGroup
        label={airScreen.span}
        layout="dense"
        chips={(['day', 'week'] as const).map((value) => ({ value, name: airScreen[value] }))}
        chosen={kind}
        onChoose={(value) => chooseAir({ kind: value })}
      />
      <div class="air-steps">
        <button type="button" class="second" onClick={() => stepAir(span.date, -1)}>
          <span aria-hidden="true">‹ </span>
          {airScreen.before[kind]}
        </button>
        {span.backCount === 0 ? null : (
          <button type="button" class="second" onClick={() => stepAir(span.date, 1)}>
            {airScreen.after[kind]}
            <span aria-hidden="true"> ›</span>
          </button>
        )}
      </div>
    </div>
  );
}

/** The one sentence that the screen is for. */
function Told({ held, span }: { readonly held: HeldCost; readonly span: AirSpan }) {
  const words = $words.value;
  const { airScreen } = words;
  const place = $place.value;
  const { kind } = $air.value;
  const { cost, trouble } = held;
  if (trouble !== null) return <Line text={airScreen[trouble]} />;
  const isOfSpan = cost !== null && Date.parse(cost.fromAt) === span.fromAt;
  if (!isOfSpan) return <Line text={cost === null ? airScreen.loading : airScreen.working} />;
  const bay = namingOf('').bayName(cost.bayId);
  const when = formatWhen(span, kind, { words, place });
  const hints = [
    ...(cost.readingMin === 0 ? [airScreen.noReadingsHint] : []),
    ...(cost.readingMin > 0 && cost.batchCount + cost.untimedCount === 0 ? [airScreen.noBatches] : []),
    ...(cost.untimedCount > 0 ? [airScreen.untimed(cost.untimedCount)] : []),
  ];
  const isUnknown = cost.readingMin === 0 && cost.batchCount === 0;
  return (
    <div class="air-told" role="status">
      <p class="air-sentence">
        {isUnknown
          ? airScreen.noReadings(when, bay)
          : formatCost(cost, { when, kind, peak: findPeak(cost.map) }, { words, place, bay })}
      </p>
      {hints.map((hint) => (
        <p key={hint} class="air-hint">
          {hint}
        </p>
      ))}
    </div>
  );
}

function Line({ text }: { readonly text: string }) {
  return (
    <div class="air-told" role="status">
      <p class="air-hint">{text}</p>
    </div>
  );
}
