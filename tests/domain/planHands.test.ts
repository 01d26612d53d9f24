// The best order of one pair of hands against published and enumerated optima.
import { describe, expect, it } from 'vitest';
import { type HandsJob, planHands } from '../../server/domain/planHands.ts';
import reference from '../fixtures/reference/scheduling.json' with { type: 'json' };
import { drawsFrom } from '../support/domainFixtures.ts';

/** SCH-1: Pinedo's example of 1 | r_j | L_max, with its optimum and bound as they stand in the reference file. */
const { lmax } = reference;
const example: readonly HandsJob[] = lmax.jobs.map(([, releaseMin, workMin, dueMin]) => ({
  releaseMin: releaseMin ?? 0,
  workMin: workMin ?? 0,
  dueMin: dueMin ?? 0,
}));
const names = (indices: readonly number[]): number[] => indices.map((index) => index + 1);

/** The same with nothing else begun before a job is done: then that job may as well be first. */
function afterFirst(first: number, jobs: readonly HandsJob[]): HandsJob[] {
  const job = jobs[first - 1] as HandsJob;
  return jobs.map((other) =>
    other === job ? job : { ...other, releaseMin: Math.max(other.releaseMin, job.releaseMin + job.workMin) },
  );
}

describe('one pair of hands (SCH-1)', () => {
  it('takes the only best order, with its lateness and its bound', () => {
    const best = planHands(example);
    expect(best.latenessMin).toBe(lmax.optimalLmax);
    expect(names(best.indices)).toEqual(lmax.optimalSequences[0]);
    expect(best.boundMin).toBe(lmax.preemptiveLowerBound);
    expect(best.doneMin).toEqual([4, 17, 10, 15]);
  });

  it('does worse by as much as is known once another job goes first', () => {
    expect(planHands(afterFirst(2, example)).latenessMin).toBe(lmax.bestWithJob2First);
    expect(planHands(afterFirst(4, example)).latenessMin).toBe(lmax.bestWithJob4First);
    const oneThenTwo = example.map((job, index) =>
      index < 2 ? job : { ...job, releaseMin: Math.max(job.releaseMin, 6) },
    );
    expect(planHands(oneThenTwo).latenessMin).toBe(lmax.bestWith1then2);
  });
});

/** Every order, tried: the optimum of a small case by another way. */
function bestByEnumeration(jobs: readonly HandsJob[]): number {
  const late = (left: readonly HandsJob[], freeMin: number, worst: number): number =>
    left.length === 0
      ? worst
      : Math.min(
          ...left.map((job) => {
            const done = Math.max(freeMin, job.releaseMin) + job.workMin;
            return late(
              left.filter((other) => other !== job),
              done,
              Math.max(worst, done - job.dueMin),
            );
          }),
        );
  return late(jobs, -Infinity, -Infinity);
}

describe('small shops made from a seed', () => {
  it('get the optimum of a full enumeration, and never less than the bound', () => {
    const { even } = drawsFrom(11);
    for (let round = 0; round < 60; round += 1) {
      const jobs = Array.from({ length: 2 + (round % 5) }, () => ({
        releaseMin: Math.floor(20 * even()),
        workMin: 1 + Math.floor(10 * even()),
        dueMin: Math.floor(40 * even()),
      }));
      const best = planHands(jobs);
      expect(best.latenessMin).toBe(bestByEnumeration(jobs));
      expect(best.boundMin).toBeLessThanOrEqual(best.latenessMin);
      expect(Math.max(...jobs.map(({ dueMin }, index) => (best.doneMin[index] ?? 0) - dueMin))).toBe(
        best.latenessMin,
      );
    }
  });

  it('take the earliest promise first where all are ready, as the earliest-due-date rule does', () => {
    const jobs = [30, 10, 20].map((dueMin) => ({ releaseMin: 0, workMin: 5, dueMin }));
    expect(planHands(jobs).indices).toEqual([1, 2, 0]);
  });

  it('are refused beyond eight jobs, and nothing to do is no lateness at all', () => {
    const jobs = Array.from({ length: 9 }, () => ({ releaseMin: 0, workMin: 1, dueMin: 1 }));
    expect(() => planHands(jobs)).toThrow(/at most 8/);
    expect(planHands([])).toMatchObject({ indices: [], latenessMin: -Infinity });
  });
});
