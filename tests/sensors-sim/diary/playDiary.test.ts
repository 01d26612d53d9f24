import { describe, expect, it } from 'vitest';
import { batchCommandBody, plainReadingBody, startBatchBody } from '../../../server/contract/index.ts';
import { playDiary } from '../../../sensors-sim/diary/playDiary.ts';
import { coldSnap } from '../../../sensors-sim/scenarios/coldSnap.ts';
import { lampWork } from '../../../sensors-sim/scenarios/lampWork.ts';
import { at } from '../playDay.ts';
import { commandsOf, diaryOf, readingsOf, truthsOf } from '../playDiaries.ts';

const lines = diaryOf(lampWork, { forDays: 4, quietDays: 2 });

describe('a diary', () => {
  it('is in time order', () => {
    const ats = lines.map((line) => line.at);
    expect(ats).toEqual(ats.toSorted());
  });

  it('is the same again for the same seed, and another for another one', () => {
    const inputs = { forDays: 1 };
    expect(diaryOf(lampWork, inputs)).toEqual(diaryOf(lampWork, inputs));
    expect(diaryOf(lampWork, { ...inputs, seed: 8 })).not.toEqual(diaryOf(lampWork, inputs));
  });

  // The outside check of the format: the schemas of the server's own doors.
  it('says only what the server’s contract takes', () => {
    for (const line of lines) {
      switch (line.kind) {
        case 'reading': {
          const { kind: _, ...body } = line;
          expect(plainReadingBody.safeParse(body).success).toBe(true);
          break;
        }
        case 'command': {
          const { kind: _, batch: __, at: saidAt, type, ...body } = line;
          const parsed =
            type === 'startBatch'
              ? startBatchBody.safeParse(body)
              : batchCommandBody.safeParse({ ...body, type, at: saidAt });
          expect(parsed.error?.issues ?? []).toEqual([]);
          break;
        }
        case 'truth':
          expect(line.readyAt === null || line.readyAt === line.at).toBe(true);
      }
    }
  });

  it('begins with days of air alone', () => {
    expect(commandsOf(lines)[0]?.at.slice(0, 10)).toBe('2026-01-14');
    expect(readingsOf(lines, 'bay-1-air').length).toBeGreaterThan(4 * 1439);
  });

  it('starts each batch once, under a name of its own, before anything is done to it', () => {
    const starts = commandsOf(lines).filter(({ type }) => type === 'startBatch');
    expect(new Set(starts.map(({ batch }) => batch)).size).toBe(starts.length);
    for (const [index, line] of commandsOf(lines).entries()) {
      const earlier = commandsOf(lines).slice(0, index);
      const isStarted = earlier.some(({ type, batch }) => type === 'startBatch' && batch === line.batch);
      expect(isStarted).toBe(line.type !== 'startBatch');
    }
  });

  it('tells no reading and no act after its last day, but the true times that are still to come', () => {
    const late = diaryOf(coldSnap, { forDays: 1, fromDate: '2026-01-22' });
    expect(late.filter((line) => line.at >= '2026-01-23').every(({ kind }) => kind === 'truth')).toBe(true);
    const starts = commandsOf(late).filter(({ type }) => type === 'startBatch');
    expect(truthsOf(late)).toHaveLength(starts.length);
  });

  it('yields line by line, without waiting for the last day', () => {
    const endless = playDiary({
      scenario: lampWork,
      seed: 7,
      timeZone: 'UTC',
      fromAt: at('2026-01-12T00:00:00Z'),
      forDays: 100_000,
    });
    expect(endless.next().value).toMatchObject({ kind: 'reading' });
  });
});

describe('rules for everyone', () => {
  it('can make them forget every "gums"', () => {
    const quiet = diaryOf(lampWork, { forDays: 2, peopleRules: { probabilityForgetsGums: 1 } });
    const checks = commandsOf(quiet).flatMap((line) => (line.type === 'recordCheck' ? [line] : []));
    expect(checks.filter(({ outcome }) => outcome === 'gums')).toEqual([]);
    expect(checks.some(({ firstTry }) => firstTry === false)).toBe(true);
  });
});

describe('the days on which clocks are changed', () => {
  it.each([
    ['2026-03-27T23:00:00Z', 71],
    ['2026-10-23T22:00:00Z', 73],
  ])('have as many hours as they have, from %s', (fromAt, hourCount) => {
    const inputs = { forDays: 3, quietDays: 3, timeZone: 'Europe/Berlin', fromAt: at(fromAt) };
    const spoken = readingsOf(diaryOf(lampWork, inputs), 'bay-1-air').map((line) => at(line.at));
    expect(spoken).toHaveLength(hourCount * 60 - 1);
    expect(new Set(spoken.slice(1).map((each, index) => each - (spoken[index] ?? 0)))).toEqual(
      new Set([60_000]),
    );
  });
});
