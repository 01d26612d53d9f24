// The order in which one pair of hands keeps its promises best: the least largest lateness, found exactly.

/** A job of one pair of hands, in minutes from a common instant. */
export interface HandsJob {
  /** Not before. */
  readonly releaseMin: number;
  readonly workMin: number;
  readonly dueMin: number;
}

export interface HandsOrder {
  /** Positions in the jobs that were asked about, first one first. */
  readonly indices: readonly number[];
  /** When each is done; same order as the jobs that were asked about. */
  readonly doneMin: readonly number[];
  /** The largest lateness; negative when every job has time to spare. */
  readonly latenessMin: number;
  /** No order can do better than this, even with work that is put down and taken up again. */
  readonly boundMin: number;
}

/** More jobs than one person has in a shift; the search beyond would no longer be a blink. */
export const JOB_COUNT_MAX = 8;

/**
 * The best order of at most eight jobs, by branch and bound over "which one next" (1 | r_j | L_max).
 * The bound of a beginning is the rest by earliest due date with work put down and taken up again (Jackson's rule).
 */
export function planHands(jobs: readonly HandsJob[]): HandsOrder {
  if (jobs.length > JOB_COUNT_MAX) throw new Error(`at most ${JOB_COUNT_MAX} jobs, not ${jobs.length}`);
  let best: { indices: readonly number[]; latenessMin: number } = { indices: [], latenessMin: Infinity };
  const search = (taken: readonly number[], { freeMin, latenessMin }: Begun): void => {
    const rest = jobs.map((_, index) => index).filter((index) => !taken.includes(index));
    if (rest.length === 0) {
      best = { indices: taken, latenessMin };
      return;
    }
    const byDue = [...rest].sort((a, b) => dueOf(jobs, a) - dueOf(jobs, b) || a - b);
    for (const index of byDue) {
      const begun = after({ freeMin, latenessMin }, jobs[index] as HandsJob);
      const others = rest.filter((other) => other !== index).map((other) => jobs[other] as HandsJob);
      if (Math.max(begun.latenessMin, boundOf(others, begun.freeMin)) < best.latenessMin) {
        search([...taken, index], begun);
      }
    }
  };
  search([], { freeMin: -Infinity, latenessMin: -Infinity });
  return { ...best, doneMin: doneOf(jobs, best.indices), boundMin: boundOf(jobs, -Infinity) };
}

/** What a beginning of an order has come to. */
interface Begun {
  readonly freeMin: number;
  readonly latenessMin: number;
}

function after({ freeMin, latenessMin }: Begun, { releaseMin, workMin, dueMin }: HandsJob): Begun {
  const doneMin = Math.max(freeMin, releaseMin) + workMin;
  return { freeMin: doneMin, latenessMin: Math.max(latenessMin, doneMin - dueMin) };
}

function dueOf(jobs: readonly HandsJob[], index: number): number {
  return (jobs[index] as HandsJob).dueMin;
}

function doneOf(jobs: readonly HandsJob[], indices: readonly number[]): number[] {
  const doneMin = Array.from(jobs, () => 0);
  let freeMin = -Infinity;
  for (const index of indices) {
    const job = jobs[index] as HandsJob;
    freeMin = Math.max(freeMin, job.releaseMin) + job.workMin;
    doneMin[index] = freeMin;
  }
  return doneMin;
}

/** The largest lateness when work may be put down: always the released job that is due first. */
function boundOf(jobs: readonly HandsJob[], freeMin: number): number {
  const left = jobs.map((job) => ({ ...job, releaseMin: Math.max(job.releaseMin, freeMin) }));
  let clockMin = freeMin;
  let latenessMin = -Infinity;
  // Each turn of the loop ends a job or meets a release: at most two turns a job.
  while (left.length > 0) {
    clockMin = Math.max(clockMin, Math.min(...left.map(({ releaseMin }) => releaseMin)));
    const released = left.filter(({ releaseMin }) => releaseMin <= clockMin);
    const job = released.reduce((first, other) => (other.dueMin < first.dueMin ? other : first));
    const nextMin = Math.min(
      ...left.map(({ releaseMin }) => releaseMin).filter((releaseMin) => releaseMin > clockMin),
    );
    const spentMin = Math.min(job.workMin, nextMin - clockMin);
    clockMin += spentMin;
    if (spentMin < job.workMin) {
      left[left.indexOf(job)] = { ...job, workMin: job.workMin - spentMin };
      continue;
    }
    left.splice(left.indexOf(job), 1);
    latenessMin = Math.max(latenessMin, clockMin - job.dueMin);
  }
  return latenessMin;
}
