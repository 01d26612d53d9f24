// What nobody measures of one batch, from what is known of it.
import { BEAD_UNCERTAINTY, type FilmUncertainty } from '../engine/index.ts';
import type { BatchState } from './batch.ts';

/** A hardener that was weighed (design MODEL §5). */
const WEIGHED_LOG_SD = 0.03;

/** Dosing by how it was dosed, the air by how it was watched, the rest as the model has it. */
export function uncertaintyOf(
  state: Pick<BatchState, 'weighed'>,
  { offsetSdK }: { offsetSdK: number },
): FilmUncertainty {
  return {
    ...BEAD_UNCERTAINTY,
    ...(state.weighed ? { hardenerLogSd: WEIGHED_LOG_SD } : {}),
    bayOffsetSdK: Math.hypot(BEAD_UNCERTAINTY.bayOffsetSdK, offsetSdK),
  };
}
