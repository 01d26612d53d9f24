// The rules of a batch's life: what each stage allows, what is refused and why, and how far undo reaches.
import { describe, expect, it } from 'vitest';
import type { BatchCommand, Instant, RefusalCode } from '../../server/contract/index.ts';
import type { FactType } from '../../server/domain/facts.ts';
import {
  estimated,
  fact,
  given,
  MIXED_AT,
  minute,
  NO_TIMES,
  type Placeable,
  place,
  started,
} from '../support/domainFixtures.ts';
import { foldBatch } from '../../server/domain/evolveBatch.ts';

const wet = [started(), estimated(0, 'wet')];
const kicked = [...wet, estimated(6, 'kicked')];
const test = [...kicked, estimated(22, 'test')];
const sanding = [
  ...test,
  fact('CheckRecorded', 24, { outcome: 'powders', firstTry: true }),
  fact('SandingStarted', 24, {}),
];
const sanded = [...sanding, fact('BatchSanded', 30, {})];
const scrapped = [...kicked, fact('BatchScrapped', 30, {})];

/** Each stage: its facts, and a minute at which a person asks. */
const stages = {
  wet: [wet, 3],
  kicked: [kicked, 10],
  test: [test, 23],
  sanding: [sanding, 27],
  sanded: [sanded, 33],
  scrapped: [scrapped, 33],
} as const satisfies Record<string, readonly [readonly Placeable[], number]>;

const commands = {
  markSpread: { type: 'markSpread' },
  gums: { type: 'recordCheck', outcome: 'gums' },
  powders: { type: 'recordCheck', outcome: 'powders' },
  finishSanding: { type: 'finishSanding' },
  scrap: { type: 'scrap' },
  moveToBay: { type: 'moveToBay', bayId: 'bay-2' },
  switchLamp: { type: 'switchLamp', lampId: 'lamp-1', forMin: 10 },
} as const satisfies Record<string, BatchCommand>;

type Row = Record<keyof typeof stages, readonly FactType[] | RefusalCode>;
const check: readonly FactType[] = ['CheckRecorded'];
const powders: readonly FactType[] = ['CheckRecorded', 'SandingStarted'];
const closed = { sanding: 'stage-not-curing', sanded: 'batch-closed', scrapped: 'batch-closed' } as const;
const whileCuring = (facts: readonly FactType[]): Row => ({
  wet: facts,
  kicked: facts,
  test: facts,
  ...closed,
});

const table: Record<keyof typeof commands, Row> = {
  markSpread: whileCuring(['BatchSpread']),
  gums: { ...whileCuring(check), wet: 'stage-wet' },
  powders: { ...whileCuring(powders), wet: 'stage-wet' },
  finishSanding: {
    wet: 'stage-not-sanding',
    kicked: 'stage-not-sanding',
    test: 'stage-not-sanding',
    sanding: ['BatchSanded'],
    sanded: 'batch-closed',
    scrapped: 'batch-closed',
  },
  scrap: { ...whileCuring(['BatchScrapped']), sanding: ['BatchScrapped'] },
  moveToBay: whileCuring(['BatchMoved']),
  switchLamp: whileCuring(['LampSwitched']),
};

const cells = (Object.keys(commands) as (keyof typeof commands)[]).flatMap((command) =>
  (Object.keys(stages) as (keyof typeof stages)[]).map(
    (stage) => [command, stage, table[command][stage]] as const,
  ),
);

describe('a command to a batch of each stage', () => {
  it.each(cells)('%s while it is %s gives %s', (command, stage, outcome) => {
    const [facts, nowMin] = stages[stage];
    expect(foldBatch(place(facts))?.stage).toBe(stage);
    const when = given(...facts).when(commands[command], nowMin);
    if (typeof outcome === 'string') when.refuses(outcome);
    else when.accepts(...outcome.map((type) => [type, undefined, nowMin] as const));
  });

  it.each([
    ['wet', ['FactUndone']],
    ['kicked', ['FactUndone']],
    ['test', 'undo-too-late'],
    ['sanding', ['FactUndone', 'FactUndone']],
    ['sanded', ['FactUndone']],
    ['scrapped', ['FactUndone']],
  ] as const)('undo of the latest act while it is %s gives %s', (stage, outcome) => {
    const [facts, nowMin] = stages[stage];
    const factSequence = Number(foldBatch(place(facts))?.lastAct?.factSequence);
    const when = given(...facts).when({ type: 'undo', factSequence }, nowMin);
    if (typeof outcome === 'string') when.refuses(outcome);
    else when.accepts(...outcome.map((type) => [type] as const));
  });
});

describe('an accepted command', () => {
  it('carries who asked, when it was done, and the batch and bay it is about', () => {
    const { decision } = given(...kicked).when({ ...commands.markSpread, at: minute(4), by: 'CD' }, 10);
    expect(decision).toEqual({
      kind: 'accepted',
      facts: [
        { type: 'BatchSpread', version: 1, at: minute(4), by: 'CD', batchId: 'b1', bayId: 'bay-1', body: {} },
      ],
    });
  });

  it('leaves out who asked when nobody said', () => {
    expect(given(...wet).when(commands.scrap, 3).decision).toMatchObject({ facts: [{ by: null }] });
  });

  it.each([
    ['gums', undefined, { outcome: 'gums', firstTry: null }],
    ['powders', true, { outcome: 'powders', firstTry: true }],
    ['powders', false, { outcome: 'powders', firstTry: false }],
  ] as const)('keeps of "%s" whether it was the first try: %s', (outcome, firstTry, body) => {
    const command: BatchCommand = {
      type: 'recordCheck',
      outcome,
      ...(firstTry === undefined ? {} : { firstTry }),
    };
    const rest = outcome === 'powders' ? [['SandingStarted', {}] as const] : [];
    given(...test)
      .when(command, 23)
      .accepts(['CheckRecorded', body], ...rest);
  });

  it('is dated now at the latest, when two clocks differ by up to a minute', () => {
    given(...wet)
      .when({ ...commands.markSpread, at: minute(4) }, 3)
      .accepts(['BatchSpread', {}, 3]);
  });

  it('may be dated back to the mixing itself', () => {
    given(...wet)
      .when({ ...commands.markSpread, at: MIXED_AT }, 3)
      .accepts(['BatchSpread', {}, 0]);
  });

  it('is taken when the version that it expects is the batch’s own', () => {
    given(...wet)
      .when({ ...commands.markSpread, expectedVersion: 1 }, 3)
      .accepts(['BatchSpread']);
  });

  it('is not stopped by an estimate that moved, which leaves the version alone', () => {
    given(...test)
      .when({ ...commands.gums, expectedVersion: 1 }, 23)
      .accepts(['CheckRecorded']);
  });

  it('counts its stage at the instant it is dated to, not now', () => {
    given(...kicked)
      .when({ ...commands.gums, at: minute(5) }, 10)
      .refuses('stage-wet', /still wet then/);
    given(...wet)
      .when({ ...commands.gums, at: minute(6) }, 6)
      .accepts(['CheckRecorded']);
  });

  it('takes the tin’s working time where there is no estimate', () => {
    given(started()).when(commands.gums, 4.99).refuses('stage-wet');
    given(started()).when(commands.gums, 5).accepts(['CheckRecorded']);
    given(started(), estimated(0, 'wet', NO_TIMES))
      .when(commands.gums, 5)
      .accepts(['CheckRecorded']);
  });
});

describe('a lamp', () => {
  it.each([
    [undefined, null, 900],
    [60, 60, 900],
    [70, 70, 750],
    [100, 100, 450],
    [120, 120, 300],
  ])('at %s cm gives its flux', (asked, distanceCm, fluxWPerM2) => {
    const command = { ...commands.switchLamp, ...(asked === undefined ? {} : { distanceCm: asked }) };
    given(...wet)
      .when(command, 3)
      .accepts(['LampSwitched', { lampId: 'lamp-1', distanceCm, forMin: 10, fluxWPerM2 }]);
  });

  it.each([59.9, 120.1])('at %d cm is refused with the distances that are known', (distanceCm) => {
    given(...wet)
      .when({ ...commands.switchLamp, distanceCm }, 3)
      .refuses('unknown-distance', /60, 80, 120 cm/);
  });

  it('is refused when the shop has none of that name', () => {
    given(...wet)
      .when({ ...commands.switchLamp, lampId: 'sun' }, 3)
      .refuses('unknown-lamp', /"sun"/);
  });
});

describe('a refused command', () => {
  it.each([
    [1, 2, /version 1/],
    [2, 1, /version 2/],
  ])('at version %i is stale when it expects %i', (version, expectedVersion, sentence) => {
    const facts = version === 1 ? wet : [...wet, fact('BatchMoved', 1, { bayId: 'bay-2' })];
    given(...facts)
      .when({ ...commands.markSpread, expectedVersion }, 3)
      .refuses('version-stale', sentence);
  });

  it('lies in the future by more than a minute', () => {
    given(...wet)
      .when({ ...commands.markSpread, at: minute(4.001) }, 3)
      .refuses('in-the-future');
  });

  it('lies before the mixing', () => {
    given(...wet)
      .when({ ...commands.markSpread, at: minute(-0.001) }, 3)
      .refuses('before-mixing');
  });

  it('marks a mix as spread that is marked already', () => {
    given(...wet, fact('BatchSpread', 2, {}))
      .when(commands.markSpread, 3)
      .refuses('already-spread');
  });

  it('moves a batch to a bay that is not there, or where it stands', () => {
    given(...wet)
      .when({ type: 'moveToBay', bayId: 'attic' }, 3)
      .refuses('unknown-bay', /"attic"/);
    given(...wet)
      .when({ type: 'moveToBay', bayId: 'bay-1' }, 3)
      .refuses('same-bay');
  });

  it('is told the stage of a batch that is closed', () => {
    given(...sanded)
      .when(commands.scrap, 33)
      .refuses('batch-closed', /sanded/);
    given(...scrapped)
      .when(commands.scrap, 33)
      .refuses('batch-closed', /scrapped/);
  });
});

describe('undo', () => {
  const spread = [...wet, fact('BatchSpread', 3, {})];
  const undo = (factSequence: number): BatchCommand => ({ type: 'undo', factSequence });

  it('takes back the latest act and no other', () => {
    given(...spread)
      .when(undo(3), 4)
      .accepts(['FactUndone', { factSequence: 3 }, 4]);
    for (const other of [1, 2, 4])
      given(...spread)
        .when(undo(other), 4)
        .refuses('undo-not-latest');
  });

  it('takes back the act before once the latest is taken back', () => {
    const undone = [...spread, fact('FactUndone', 4, { factSequence: place(spread)[2]?.sequence as never })];
    given(...undone)
      .when(undo(3), 5)
      .refuses('undo-not-latest');
    given(...undone)
      .when(undo(1), 5)
      .accepts(['FactUndone', { factSequence: 1 }]);
  });

  it.each([4, 5])(
    'takes back "powders" and its sanding together, whichever of both is named: %i',
    (factSequence) => {
      const facts = [
        ...kicked,
        fact('CheckRecorded', 24, { outcome: 'powders', firstTry: null }),
        fact('SandingStarted', 24, {}),
      ];
      given(...facts)
        .when(undo(factSequence), 25)
        .accepts(['FactUndone', { factSequence: 5 }], ['FactUndone', { factSequence: 4 }]);
    },
  );

  it('takes back "gums" alone', () => {
    const facts = [...kicked, fact('CheckRecorded', 20, { outcome: 'gums', firstTry: null })];
    given(...facts)
      .when(undo(4), 21)
      .accepts(['FactUndone', { factSequence: 4 }]);
  });

  it('takes back the end of sanding alone', () => {
    given(...sanded)
      .when(undo(7), 31)
      .accepts(['FactUndone', { factSequence: 7 }]);
  });

  it('reaches ten minutes back from when the act was told, not from when it was done', () => {
    const late = [...wet, fact('BatchSpread', 3, {}, { recordedMin: 20 })];
    given(...late)
      .when(undo(3), 30)
      .accepts(['FactUndone', { factSequence: 3 }, 30]);
    given(...late)
      .when(undo(3), 30.001)
      .refuses('undo-too-late', /10 minutes/);
  });

  it('is dated now, even when the person dates it back', () => {
    given(...spread)
      .when({ ...undo(3), at: minute(3) }, 4)
      .accepts(['FactUndone', undefined, 4]);
  });

  it('has nothing to take back once the start is taken back', () => {
    const [start, ...rest] = place(wet);
    expect(rest).toHaveLength(1);
    const undone = [...wet, fact('FactUndone', 1, { factSequence: start?.sequence as never })];
    given(...undone)
      .when(undo(1), 2)
      .refuses('nothing-to-undo');
  });
});

describe('an act that is dated before the one it rests on', () => {
  it('is refused: sanded before sanding began', () => {
    const [facts] = stages.sanding;
    const sandingAt = Number(foldBatch(place(facts))?.sandingAt);
    const at = (sandingAt - 60_000) as Instant;
    given(...facts)
      .when({ type: 'finishSanding', at }, 60)
      .refuses('out-of-order');
  });

  it('is refused: a test before one that is on record', () => {
    const gummed = fact('CheckRecorded', 30, { outcome: 'gums', firstTry: null });
    const [facts] = stages.test;
    given(...facts, gummed)
      .when({ ...commands.powders, at: minute(28) }, 40)
      .refuses('out-of-order');
    given(...facts, gummed)
      .when({ ...commands.powders, at: minute(30) }, 40)
      .accepts(...powders.map((type) => [type] as const));
  });

  it('is not refused a test now because colder air has moved the gel behind it', () => {
    const moved = [...kicked, estimated(8, 'kicked', { kickedAt: minute(12) })];
    given(...moved)
      .when(commands.gums, 9)
      .accepts(['CheckRecorded']);
    given(...moved)
      .when({ ...commands.gums, at: minute(8) }, 9)
      .refuses('stage-wet');
  });
});

describe('a lamp that is switched off', () => {
  it('needs no distance that was measured', () => {
    const off = { type: 'switchLamp', lampId: 'lamp-1', distanceCm: 199, forMin: 0 } as const;
    given(...kicked)
      .when(off, 8)
      .accepts(['LampSwitched']);
  });
});
