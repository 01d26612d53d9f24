// What must hold of facts as they come, said again here from the design's words and not from the code that makes them:
// no gap, only legal stages, no alert twice within a minute, none twice open for one reason.
import type { Instant } from '../../../server/contract/index.ts';
import type { Fact, FactOf, Sequence } from '../../../server/domain/facts.ts';

/** Takes facts one by one and answers with what is wrong about each. */
export type FactCheck = (fact: Fact) => readonly string[];

type Stage = 'wet' | 'kicked' | 'test' | 'sanding' | 'sanded' | 'scrapped';

interface BatchLife {
  readonly facts: Fact[];
  stage: Stage;
}

/** Makes a check that has seen nothing. */
export function makeFactCheck(): FactCheck {
  const gap = makeGapCheck();
  const stages = makeStageCheck();
  const alerts = makeAlertCheck();
  return (fact) => [...gap(fact), ...stages(fact), ...alerts(fact)];
}

function makeGapCheck(): FactCheck {
  let last = 0;
  return ({ sequence }) => {
    const found = sequence === last + 1 ? [] : [`fact ${sequence} comes after fact ${last}`];
    last = sequence;
    return found;
  };
}

/** A batch's stages as PRODUCT §2 tells them. */
function makeStageCheck(): FactCheck {
  const lives = new Map<string, BatchLife>();
  return (fact) => {
    const { batchId, type } = fact;
    if (batchId === null) return [];
    const life = lives.get(batchId);
    if (life === undefined) {
      lives.set(batchId, { facts: [fact], stage: 'wet' });
      return type === 'BatchStarted' ? [] : [`${type} of batch ${batchId}, which was never started`];
    }
    const found = isLegal(fact, life) ? [] : [`${describe(fact)} while batch ${batchId} is ${life.stage}`];
    life.facts.push(fact);
    life.stage = type === 'FactUndone' ? stageOf(life.facts) : after(life.stage, fact);
    return found;
  };
}

function describe(fact: Fact): string {
  if (fact.type === 'EstimateChanged') return `${fact.type} (${fact.body.phase})`;
  return fact.type === 'CheckRecorded' ? `${fact.type} (${fact.body.outcome})` : fact.type;
}

const PHASES: readonly Stage[] = ['wet', 'kicked', 'test'];

function isLegal(fact: Fact, { stage, facts }: BatchLife): boolean {
  const isCuring = PHASES.includes(stage);
  switch (fact.type) {
    case 'BatchStarted':
      return false;
    case 'EstimateChanged':
      // Time only goes on: "gums" and undo alone go back.
      return isCuring && PHASES.indexOf(fact.body.phase) >= PHASES.indexOf(stage);
    case 'CheckRecorded':
      return isCuring && (stage !== 'wet' || fact.at >= kickedAtOf(facts));
    case 'SandingStarted':
      return isCuring && lastActOf(facts)?.type === 'CheckRecorded';
    case 'BatchSanded':
      return stage === 'sanding';
    case 'BatchScrapped':
      return isCuring || stage === 'sanding';
    case 'BatchSpread':
    case 'BatchMoved':
    case 'LampSwitched':
      return isCuring;
    case 'FactUndone': {
      const { factSequence } = fact.body;
      return facts.some(({ sequence }) => sequence === factSequence) && !undoneOf(facts).has(factSequence);
    }
    default:
      return true;
  }
}

function after(stage: Stage, fact: Fact): Stage {
  switch (fact.type) {
    case 'EstimateChanged':
      return fact.body.phase;
    case 'CheckRecorded':
      return fact.body.outcome === 'gums' ? 'kicked' : stage;
    case 'SandingStarted':
      return 'sanding';
    case 'BatchSanded':
      return 'sanded';
    case 'BatchScrapped':
      return 'scrapped';
    default:
      return stage;
  }
}

/** The stage as if what was undone had never been. */
function stageOf(facts: readonly Fact[]): Stage {
  const undone = undoneOf(facts);
  if (facts.some(({ type, sequence }) => type === 'BatchStarted' && undone.has(sequence))) return 'scrapped';
  return facts.filter(({ sequence }) => !undone.has(sequence)).reduce<Stage>(after, 'wet');
}

function undoneOf(facts: readonly Fact[]): ReadonlySet<Sequence> {
  return new Set(facts.flatMap((fact) => (fact.type === 'FactUndone' ? [fact.body.factSequence] : [])));
}

function lastActOf(facts: readonly Fact[]): Fact | undefined {
  return facts.findLast(({ by, type }) => by !== null && type !== 'AlertAcknowledged');
}

/** By the last estimate, else by nothing that could be held against anyone. */
function kickedAtOf(facts: readonly Fact[]): number {
  const last = facts.findLast((fact): fact is FactOf<'EstimateChanged'> => fact.type === 'EstimateChanged');
  return last?.body.estimate.kickedAt ?? 0;
}

const AGAIN_MS = 60_000;

/** Alerts as PRODUCT §4 tells them. */
function makeAlertCheck(): FactCheck {
  const lastAt = new Map<string, Instant>();
  const open = new Map<string, readonly string[]>();
  return (fact) => {
    const found: string[] = [];
    if (fact.type === 'AlertRaised') {
      const { alertId, kind } = fact.body;
      const reasons = reasonsOf(fact);
      const name = reasons.length > 1 ? `${kind} of many` : String(reasons[0]);
      const before = lastAt.get(name);
      if (before !== undefined && Math.abs(fact.at - before) < AGAIN_MS)
        found.push(`alert ${name} was raised twice within ${Math.abs(fact.at - before)} ms`);
      lastAt.set(name, fact.at);
      if (open.has(alertId)) found.push(`alert ${alertId} was raised twice`);
      found.push(...doubled(open, alertId, reasons));
      open.set(alertId, reasons);
    }
    if (fact.type === 'AlertSubjectsChanged') {
      const { alertId, subjects } = fact.body;
      const kind = (open.get(alertId)?.[0] ?? '').split(' ')[0] ?? '';
      const reasons = subjects.map((one) => `${kind} ${one.batchId ?? one.sensorId}`);
      found.push(...doubled(open, alertId, reasons));
      open.set(alertId, reasons);
    }
    if (fact.type === 'AlertWithdrawn' && !open.delete(fact.body.alertId))
      found.push(`alert ${fact.body.alertId} was withdrawn and was not open`);
    return found;
  };
}

function reasonsOf({ body, batchId }: FactOf<'AlertRaised'>): string[] {
  const about = body.subjects?.map((one) => one.batchId ?? one.sensorId) ?? [batchId];
  return about.map((one) => `${body.kind} ${one}`);
}

function doubled(
  open: ReadonlyMap<string, readonly string[]>,
  own: string,
  reasons: readonly string[],
): string[] {
  return [...open].flatMap(([alertId, others]) =>
    alertId === own ? [] : reasons.filter((one) => others.includes(one)).map((one) => `${one} is open twice`),
  );
}
