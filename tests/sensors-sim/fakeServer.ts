// A server of a few lines for the simulator's tests: it keeps batches, knows their stages by a plain timer, refuses what
// its stage forbids, and shows what is open.
import type { BatchWire, Stage } from '../../server/contract/index.ts';
import type { Act, ServerView } from '../../sensors-sim/people/crew.ts';

export interface FakeServer {
  /** Takes an act; null when it is done, otherwise the code of the refusal. */
  take(act: Act): string | null;
  view(nowAt: number): ServerView;
  /** Every batch there ever was. */
  readonly batches: Map<string, BatchWire>;
  readonly acts: Act[];
}

const MS_PER_MIN = 60_000;

/** A server whose batches kick after some minutes and are to be tested after more. */
export function makeFakeServer({ kickedMin = 9, testMin = 26 } = {}): FakeServer {
  const batches = new Map<string, BatchWire>();
  const acts: Act[] = [];
  const stageAt = (batch: BatchWire, nowAt: number): Stage => {
    if (batch.stage !== 'wet') return batch.stage;
    const sinceMin = (nowAt - Date.parse(batch.checks.at(-1)?.at ?? batch.mixedAt)) / MS_PER_MIN;
    if (batch.checks.length > 0) return sinceMin < 5 ? 'kicked' : 'test';
    return sinceMin < kickedMin ? 'wet' : sinceMin < testMin ? 'kicked' : 'test';
  };
  return {
    batches,
    acts,
    view: (nowAt) => {
      const open = [...batches].filter(([, { stage }]) => stage !== 'sanded' && stage !== 'scrapped');
      const shown = open.map(([key, batch]) => [key, { ...batch, stage: stageAt(batch, nowAt) }] as const);
      return { batches: new Map(shown), pendingKeys: new Set() };
    },
    take: (act) => {
      acts.push(act);
      if (act.kind === 'start') {
        batches.set(act.key, batchFrom(act));
        return null;
      }
      const batch = batches.get(act.key);
      if (batch === undefined) return 'unknown-batch';
      const changed = changedBy(batch, { act, stage: stageAt(batch, act.at) });
      if (typeof changed === 'string') return changed;
      batches.set(act.key, { ...changed, version: batch.version + 1 });
      return null;
    },
  };
}

function changedBy(
  batch: BatchWire,
  { act, stage }: { act: Extract<Act, { kind: 'command' }>; stage: Stage },
): BatchWire | string {
  const { body } = act;
  const at = new Date(act.at).toISOString();
  switch (body.type) {
    case 'markSpread':
      return batch.spreadAt === null ? { ...batch, spreadAt: at } : 'already-spread';
    case 'recordCheck': {
      if (stage === 'wet') return 'stage-wet';
      if (stage === 'sanding') return 'stage-not-curing';
      const check = { at, outcome: body.outcome, firstTry: body.firstTry ?? null, by: body.by ?? null };
      const checks = [...batch.checks, check];
      return body.outcome === 'gums' ? { ...batch, checks } : { ...batch, checks, stage: 'sanding' };
    }
    case 'finishSanding':
      return stage === 'sanding' ? { ...batch, stage: 'sanded' } : 'stage-not-sanding';
    case 'scrap':
      return { ...batch, stage: 'scrapped' };
    case 'moveToBay':
      return { ...batch, bayId: body.bayId };
    case 'switchLamp': {
      const untilAt = new Date(act.at + body.forMin * MS_PER_MIN).toISOString();
      const spell = { lampId: body.lampId, fromAt: at, untilAt, distanceCm: body.distanceCm ?? null };
      return { ...batch, lamps: [...batch.lamps, { ...spell, fluxWPerM2: 1000 }] };
    }
    case 'undo':
      return 'nothing-to-undo';
  }
}

/** A batch as the wire carries it, from the body that started it. */
export function batchFrom({ key, body }: Extract<Act, { kind: 'start' }>): BatchWire {
  return {
    id: `batch ${key}`,
    version: 1,
    stage: 'wet',
    cardId: body.cardId,
    panel: body.panel,
    repairOrder: body.repairOrder ?? null,
    promisedAt: body.promisedAt ?? null,
    remainingWorkMin: body.remainingWorkMin ?? null,
    bayId: body.bayId,
    thicknessMm: body.thicknessMm,
    substrate: body.substrate,
    hardenerPct: body.hardenerPct ?? 2,
    weighed: body.weighed ?? false,
    underlayMm: body.underlayMm ?? 0,
    rolledInAt: body.rolledInAt ?? null,
    outdoorTemperatureC: body.outdoorTemperatureC ?? null,
    panelTemperatureC: body.panelTemperatureC ?? null,
    by: body.by ?? null,
    mixedAt: body.mixedAt ?? '',
    spreadAt: null,
    sandingAt: null,
    closedAt: null,
    checks: [],
    lamps: [],
    lastAct: null,
    estimate: null,
  };
}
