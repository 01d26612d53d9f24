// A batch is two films: its build and its thin edge; the later of both decides when it is worth testing.
import type { CardConstants, CardStatement, FilmJob } from './cardStatement.ts';
import { BATCH } from './constants.ts';
import { type FilmSolution, solveFilm, type SolveOptions } from './solveFilm.ts';
import type { FilmSample } from './watchFilm.ts';

/**
 * Build and edge of one batch solved; an instant is null when it is not reached within 12 h.
 */
export interface BatchSolution {
  readonly gelMin: number | null;
  readonly sandMin: number | null;
  readonly coolMin: number | null;
  readonly edgeSandMin: number | null;
  readonly edgeCoolMin: number | null;
  /** The later coolMin of both films. */
  readonly testMin: number | null;
  readonly peakC: number;
  readonly samples: FilmSample[];
  /** What the batch waits for last. */
  readonly governedBy: 'build' | 'edge' | 'cooling' | 'stalled';
}

/**
 * The instants of a batch [min since mixing].
 * test = max(build cool, edge cool); edge of min(0.5 mm, thickness)
 * @param card  the product, judged before
 * @param constants  its calibration
 * @param job  the build, judged before
 * @param options  samples of the build, and accuracy for tests
 * @returns instants of both films, peak and samples of the build
 * @source design MODEL §1
 */
export function solveBatch(
  card: CardStatement,
  constants: CardConstants,
  job: FilmJob,
  options: SolveOptions = {},
): BatchSolution {
  const build = solveFilm(card, constants, job, options);
  const edge = solveEdge(build, { card, constants, job, options });
  const testMin = laterMin(build.coolMin, edge.coolMin);
  return {
    gelMin: build.gelMin,
    sandMin: build.sandMin,
    coolMin: build.coolMin,
    edgeSandMin: edge.sandMin,
    edgeCoolMin: edge.coolMin,
    testMin,
    peakC: build.peakC,
    samples: build.samples,
    governedBy: governorOf({ build, edge, testMin }),
  };
}

/**
 * The later of two instants, null when either is never reached [min].
 * @param leftMin  [min] or null
 * @param rightMin  [min] or null
 * @returns the later [min] or null
 * @source own
 */
function laterMin(leftMin: number | null, rightMin: number | null): number | null {
  return leftMin === null || rightMin === null ? null : Math.max(leftMin, rightMin);
}

/**
 * The thin edge of a film.
 * @param job  the build
 * @returns the same film at min(0.5 mm, its thickness)
 * @source design MODEL §1
 */
export function edgeJob(job: FilmJob): FilmJob {
  return { ...job, thicknessMm: Math.min(BATCH.edgeThicknessMm, job.thicknessMm) };
}

function solveEdge(
  build: FilmSolution,
  question: { card: CardStatement; constants: CardConstants; job: FilmJob; options: SolveOptions },
): FilmSolution {
  const { card, constants, job, options } = question;
  if (job.thicknessMm <= BATCH.edgeThicknessMm) return build;
  return solveFilm(card, constants, edgeJob(job), { ...options, sampleAtMin: [] });
}

function governorOf({
  build,
  edge,
  testMin,
}: {
  build: FilmSolution;
  edge: FilmSolution;
  testMin: number | null;
}): BatchSolution['governedBy'] {
  const sandMin = laterMin(build.sandMin, edge.sandMin);
  if (testMin === null || sandMin === null) return 'stalled';
  if (testMin > sandMin) return 'cooling';
  return edge.sandMin === sandMin && build.sandMin !== sandMin ? 'edge' : 'build';
}
