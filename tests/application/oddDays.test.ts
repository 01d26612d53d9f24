// Days that do not go as they should: each row says what happens, and what the shop makes of it.
import { describe, expect, it } from 'vitest';
import { calibrateCards, catchUp } from '../../server/application/openShop.ts';
import { readCards } from '../../server/application/readSnapshot.ts';
import { rebuildViews } from '../../server/application/rebuildViews.ts';
import type { Answer } from '../../server/application/ports/doors.ts';
import { handleCommand } from '../../server/application/handleCommand.ts';
import { type BatchCommand, type BatchWire, isoFromInstant } from '../../server/contract/index.ts';
import { instantAfter } from '../../server/domain/minutes.ts';
import { act, done, OPENS_AT, openTestShop, sayAir, start, type TestShop } from '../support/testShop.ts';
import { makeSimulatedClock, type SimulatedClock } from '../support/simulatedClock.ts';

/** A shop at 20 °C whose sensor speaks every ten minutes while time goes on. */
async function openWarm(): Promise<TestShop> {
  const test = await openTestShop();
  await sayAir(test, 20);
  return test;
}

async function goOn(test: TestShop, durationMin: number, airC = 20): Promise<void> {
  for (let gone = 0; gone < durationMin; gone += 10) {
    await test.clock.moveBy(Math.min(10, durationMin - gone));
    // Never the same to the bit for hours: such a sensor would be doubted.
    await sayAir(test, airC + (gone % 20) / 100);
  }
}

function codeOf(answer: Answer): string {
  return answer.kind === 'refused' ? answer.refusal.code : answer.kind;
}

/** The batch as its view stands. */
async function viewOf({ shop }: TestShop, batchId: string) {
  return (await shop.ledger.readView('batch', batchId)) as { stage: string; checks: unknown[] };
}

async function learnedCount({ shop }: TestShop): Promise<number> {
  const card = (await readCards(shop)).find(({ id }) => id === 'body-filler');
  return card?.learned?.batchCount ?? 0;
}

const GUMS: BatchCommand = { type: 'recordCheck', outcome: 'gums' };
const POWDERS: BatchCommand = { type: 'recordCheck', outcome: 'powders', firstTry: true };

describe('a test by hand', () => {
  it('before the mix has kicked is refused, and changes nothing', async () => {
    const test = await openWarm();
    const { id, version } = await start(test);
    await goOn(test, 2);
    expect(codeOf(await act(test, id, GUMS))).toBe('stage-wet');
    expect(await viewOf(test, id)).toMatchObject({ checks: [], version });
  });

  it('of a mix that nobody marked as spread counts: somebody forgot to tap', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 22);
    const batch = done(await act(test, id, POWDERS));
    expect(batch).toMatchObject({ stage: 'sanding', spreadAt: null });
    expect(await learnedCount(test)).toBe(1);
  });

  it('in the future is refused with its field', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 22);
    const answer = await act(test, id, { ...GUMS, at: instantAfter(test.clock.nowAt(), 5) });
    expect(answer).toMatchObject({ kind: 'refused', refusal: { code: 'in-the-future', path: 'at' } });
  });

  it('earlier than one on record is refused as out of order', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 22);
    await act(test, id, GUMS);
    const answer = await act(test, id, { ...GUMS, at: instantAfter(test.clock.nowAt(), -3) });
    expect(codeOf(answer)).toBe('out-of-order');
  });

  it('sent twice under one key is one test and one lesson', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 22);
    const ask = { key: 'one tap', body: POWDERS };
    const first = done(await handleCommand(test.shop, id, ask));
    const again = await handleCommand(test.shop, id, ask);
    expect(again).toMatchObject({ kind: 'done', isRepeat: true, batch: { version: first.version } });
    expect((await viewOf(test, id)).checks).toHaveLength(1);
    expect(await learnedCount(test)).toBe(1);
  });

  it('taken back is as if it had not been, also for what was learned', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 22);
    const batch = done(await act(test, id, POWDERS));
    expect(await learnedCount(test)).toBe(1);
    await act(test, id, { type: 'undo', factSequence: batch.lastAct?.factSequence ?? 0 });
    expect(await learnedCount(test)).toBe(0);
    expect(await viewOf(test, id)).toMatchObject({ stage: 'kicked', checks: [] });
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });
});

describe('a batch left overnight', () => {
  it('stays on the stack, can be closed in the morning, and teaches nothing', async () => {
    const test = await openWarm();
    const { id } = await start(test);
    await goOn(test, 14 * 60, 12);
    expect((await viewOf(test, id)).stage).toBe('test');
    const batch = done(await act(test, id, POWDERS));
    expect(batch.stage).toBe('sanding');
    expect(await learnedCount(test)).toBe(0);
  });
});

describe('a card edited while batches are open', () => {
  it('counts for them from the next start on, and learning begins anew', async () => {
    const test = await openWarm();
    const first = await start(test);
    await goOn(test, 22);
    await act(test, first.id, POWDERS);
    const open = await start(test);
    const card = test.shop.cards.get('body-filler');
    if (card === undefined) throw new Error('the shipped card');
    const { constants: _old, ...stated } = card;
    const edited = calibrateCards([{ ...stated, workingMin: 7, sandMin: 26 }]);
    if (edited.kind === 'rejected') throw new Error('the edited card calibrates');
    const cards = new Map([...test.shop.cards, ...edited.cards]);
    const restarted = { ...test, shop: { ...test.shop, cards } };
    await catchUp(restarted.shop);
    const wire = (await viewOf(restarted, open.id)) as unknown as { estimate: { p50At: number } };
    const movedMin = (wire.estimate.p50At - Date.parse(open.estimate?.test.p50At ?? '')) / 60_000;
    expect(movedMin).toBeGreaterThan(6);
    expect(await learnedCount(restarted)).toBe(0);
    expect((await rebuildViews(restarted.shop.ledger)).differences).toEqual([]);
  });
});

describe('a clock that jumps', () => {
  /** A clock that can be set, as a computer's is by its user or by the net. */
  function makeJumpingClock(): SimulatedClock & { jump(byMin: number): void } {
    const clock = makeSimulatedClock(OPENS_AT);
    let offsetMin = 0;
    return {
      ...clock,
      nowAt: () => instantAfter(clock.nowAt(), offsetMin),
      wakeAt: (at, run) => clock.wakeAt(instantAfter(at, -offsetMin), run),
      jump: (byMin) => (offsetMin += byMin),
    };
  }

  it('an hour ahead calls what is due and loses nothing', async () => {
    const clock = makeJumpingClock();
    const test = { ...(await openTestShop({ clock })), clock };
    await sayAir(test, 20);
    const { id } = await start(test);
    clock.jump(60);
    await clock.moveBy(2);
    expect((await viewOf(test, id)).stage).toBe('test');
    const alerts = await test.shop.ledger.readViews('alert', { openOnly: true });
    expect(alerts.map(({ id: alertId }) => alertId)).toContain(`${id}.test.1`);
  });

  it('an hour back holds every stage, takes no alert away, and takes acts again', async () => {
    const clock = makeJumpingClock();
    const test = { ...(await openTestShop({ clock })), clock };
    await sayAir(test, 20);
    const { id } = await start(test);
    await clock.moveBy(30);
    expect((await viewOf(test, id)).stage).toBe('test');
    clock.jump(-60);
    await clock.moveBy(2);
    expect((await viewOf(test, id)).stage).toBe('test');
    // By this clock the batch is not even mixed: an act is dated to its mixing at the earliest, and said so.
    expect(codeOf(await act(test, id, POWDERS))).toBe('before-mixing');
    clock.jump(60);
    expect(codeOf(await act(test, id, POWDERS))).toBe('done');
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });
});

describe('a month with gaps', () => {
  it('learns from the days that had air and not from the others', async () => {
    const test = await openWarm();
    for (let day = 0; day < 6; day += 1) {
      const isSilent = day % 2 === 1;
      if (!isSilent) await goOn(test, 30);
      else await test.clock.moveBy(30);
      const { id } = await start(test);
      if (isSilent) await test.clock.moveBy(25);
      else await goOn(test, 25);
      await act(test, id, POWDERS);
      await act(test, id, { type: 'finishSanding' });
      await test.clock.moveBy(5 * 24 * 60 - 55);
    }
    expect(await learnedCount(test)).toBe(3);
    expect((await rebuildViews(test.shop.ledger)).differences).toEqual([]);
  });

  it('says of a batch in it what it does not know', async () => {
    const test = await openWarm();
    await test.clock.moveBy(20 * 24 * 60);
    const batch: BatchWire = await start(test);
    expect(batch.estimate).toMatchObject({ supported: false });
    expect(batch.estimate?.notes).toContain('air-stale');
    await sayAir(test, 14);
    await test.clock.moveBy(1);
    const known = (await viewOf(test, batch.id)) as unknown as {
      estimate: { notes: string[]; supported: boolean };
    };
    expect(known.estimate.supported).toBe(true);
    expect(isoFromInstant(test.clock.nowAt())).toMatch(/^2026-02-01/);
  });
});
