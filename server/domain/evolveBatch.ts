// Facts in, state out: a pure fold that only copies, so that a replay never meets a newer model.
import { alertFrom } from './alertBook.ts';
import type { Alert, BatchState, LampSpell, Stay } from './batch.ts';
import type { BatchId, Fact, FactOf, FactType, Sequence } from './facts.ts';
import { instantAfter } from './minutes.ts';

/** Acts of people: they raise the version and can be undone. */
const ACTS: ReadonlySet<FactType> = new Set([
  'BatchStarted',
  'BatchSpread',
  'BatchMoved',
  'LampSwitched',
  'CheckRecorded',
  'SandingStarted',
  'BatchSanded',
  'BatchScrapped',
] satisfies FactType[]);

/** Acts after which the window may lie elsewhere: people saw it move with their own tap. */
const STEERING_ACTS: ReadonlySet<FactType> = new Set([
  'BatchMoved',
  'LampSwitched',
  'CheckRecorded',
] satisfies FactType[]);

/** Whether a fact is something that a person did. */
export function isAct(fact: Fact): boolean {
  return ACTS.has(fact.type);
}

/**
 * The state of a batch after all its facts, in order; null when there are none.
 * Undone facts count as if they had not been. A batch whose very start was undone stays as a scrapped one,
 * so that every screen that saw it sees it go.
 */
export function foldBatch(facts: readonly Fact[]): BatchState | null {
  const undone = undoneSequences(facts);
  const started = facts.find((fact) => fact.type === 'BatchStarted');
  if (started === undefined) return null;
  const undoCount = facts.filter((fact) => fact.type === 'FactUndone').length;
  let state = startBatch(started);
  for (const fact of facts) if (!undone.has(fact.sequence)) state = evolveBatch(state, fact);
  const version = state.version + undoCount + undone.size;
  if (!undone.has(started.sequence)) return { ...state, version };
  return { ...state, version, stage: 'scrapped', closedAt: undoneAt(facts, started.sequence), lastAct: null };
}

/** The sequences that later facts took back. */
export function undoneSequences(facts: readonly Fact[]): ReadonlySet<Sequence> {
  return new Set(facts.flatMap((fact) => (fact.type === 'FactUndone' ? [fact.body.factSequence] : [])));
}

/** The state after one more fact that is not an undo; undo needs the fold of all. */
export function evolveBatch(state: BatchState, fact: Fact): BatchState {
  const changed = applyFact(state, fact);
  if (!isAct(fact) || fact.type === 'BatchStarted') return changed;
  const steeringSequence = STEERING_ACTS.has(fact.type) ? fact.sequence : state.steeringSequence;
  return { ...changed, version: state.version + 1, lastAct: lastActFrom(state, fact), steeringSequence };
}

/** "Powders" and the sanding that it starts are one act: undo names the check. */
function lastActFrom(state: BatchState, fact: Fact): BatchState['lastAct'] {
  if (fact.type === 'SandingStarted' && state.lastAct?.type === 'CheckRecorded') return state.lastAct;
  return { factSequence: fact.sequence, type: fact.type, recordedAt: fact.recordedAt, by: fact.by };
}

function startBatch(fact: FactOf<'BatchStarted'>): BatchState {
  return {
    ...fact.body,
    id: fact.batchId as BatchId,
    version: 1,
    stage: 'wet',
    by: fact.by,
    spreadAt: null,
    sandingAt: null,
    closedAt: null,
    stays: [{ bayId: fact.body.bayId, fromAt: fact.body.mixedAt }],
    lamps: [],
    checks: [],
    alerts: [],
    lastAct: { factSequence: fact.sequence, type: fact.type, recordedAt: fact.recordedAt, by: fact.by },
    estimate: null,
    steeringSequence: fact.sequence,
    watch: null,
  };
}

function applyFact(state: BatchState, fact: Fact): BatchState {
  switch (fact.type) {
    case 'BatchSpread':
      return { ...state, spreadAt: fact.at };
    case 'BatchMoved':
      return { ...state, bayId: fact.body.bayId, stays: moveOn(state.stays, fact) };
    case 'LampSwitched':
      return { ...state, lamps: switchLamp(state.lamps, fact) };
    case 'CheckRecorded':
      return recordCheck(state, fact);
    case 'SandingStarted':
      return { ...state, stage: 'sanding', sandingAt: fact.at };
    case 'EstimateChanged':
      return {
        ...state,
        estimate: fact.body.estimate,
        stage: fact.body.phase,
        watch: fact.body.watch ?? null,
      };
    case 'BatchSanded':
      return { ...state, stage: 'sanded', closedAt: fact.at };
    case 'BatchScrapped':
      return { ...state, stage: 'scrapped', closedAt: fact.at };
    case 'AlertRaised':
      return { ...state, alerts: [...state.alerts, alertFrom(fact)] };
    case 'AlertAcknowledged':
      return markAlert(state, fact.body.alertId, { acknowledgedAt: fact.at });
    case 'AlertWithdrawn':
      return markAlert(state, fact.body.alertId, { withdrawnAt: fact.at });
    case 'BatchStarted':
    case 'FactUndone':
    case 'SensorSeen':
    case 'SensorQuiet':
    case 'CardCalibrated':
    case 'LessonTaken':
    case 'AlertSubjectsChanged':
    case 'AlertDelivered':
    case 'DeliveryMarked':
    case 'SettingsChanged':
    case 'DevicePaired':
    case 'DeviceRenamed':
    case 'DeviceEnded':
    case 'SignedIn':
    case 'SessionEnded':
    case 'SignInRefused':
    case 'PassphraseChanged':
    case 'SensorUserChanged':
      return state;
  }
}

/** A move dated back before earlier ones takes their place: stays are in order of time, the last one is now. */
function moveOn(stays: readonly Stay[], fact: FactOf<'BatchMoved'>): readonly Stay[] {
  const kept = stays.filter((stay, index) => index === 0 || stay.fromAt < fact.at);
  return [...kept, { bayId: fact.body.bayId, fromAt: fact.at }];
}

function recordCheck(state: BatchState, fact: FactOf<'CheckRecorded'>): BatchState {
  const { outcome, firstTry } = fact.body;
  const checks = [...state.checks, { at: fact.at, outcome, firstTry, by: fact.by }];
  return outcome === 'gums' ? { ...state, checks, stage: 'kicked' } : { ...state, checks };
}

/** A lamp has one spell at a time: a new one cuts the running one short, and no minutes switch it off. */
function switchLamp(lamps: readonly LampSpell[], fact: FactOf<'LampSwitched'>): readonly LampSpell[] {
  const { lampId, distanceCm, forMin, fluxWPerM2 } = fact.body;
  const cut = lamps.flatMap((spell) => {
    if (spell.lampId !== lampId || spell.untilAt <= fact.at) return [spell];
    return spell.fromAt < fact.at ? [{ ...spell, untilAt: fact.at }] : [];
  });
  if (forMin === 0) return cut;
  return [
    ...cut,
    { lampId, fromAt: fact.at, untilAt: instantAfter(fact.at, forMin), distanceCm, fluxWPerM2 },
  ];
}

function markAlert(state: BatchState, alertId: string, mark: Partial<Alert>): BatchState {
  return {
    ...state,
    alerts: state.alerts.map((alert) => (alert.id === alertId ? { ...alert, ...mark } : alert)),
  };
}

function undoneAt(facts: readonly Fact[], sequence: Sequence): Fact['at'] {
  const undo = facts.find((fact) => fact.type === 'FactUndone' && fact.body.factSequence === sequence);
  return (undo as Fact).at;
}
