// How much a test of many seeds does: a little in each run of all tests, far more at night (npm run nightly).

/** The number for this run: `usual` in `npm test`, `nightly` where the variable SANDBY_SIZE says so. */
export function countFor({ usual, nightly }: { usual: number; nightly: number }): number {
  return process.env['SANDBY_SIZE'] === 'nightly' ? nightly : usual;
}
