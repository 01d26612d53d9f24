// What nobody measures of a batch: it widens a window as random members say, and most where the scale has no hold.
import { describe, expect, it } from 'vitest';
import { recalibrate } from '../../server/engine/calibrateCard.ts';
import { KINETICS } from '../../server/engine/constants.ts';
import { probeFilm } from '../../server/engine/filmUncertainty.ts';
import {
  BEAD_UNCERTAINTY,
  DEFAULT_WINDOW_PRIOR,
  estimateWindow,
  type FilmJob,
  solveBatch,
  type TestWindow,
  type WindowPrior,
} from '../../server/engine/index.ts';
import { crowdQuantiles } from './bruteForce.ts';
import { bodyConstants, bodyFiller, plainJob } from './samples.ts';

const lamp: FilmJob = { ...plainJob, airC: [[0, 12]], lampMinWPerM2: [[10, 25, 900]] };
const prior: WindowPrior = { ...DEFAULT_WINDOW_PRIOR, film: BEAD_UNCERTAINTY };
const ask = (job: FilmJob, belief = prior): TestWindow =>
  estimateWindow({ card: bodyFiller, constants: bodyConstants, job, prior: belief });
const widthOf = ({ p10Min, p90Min }: TestWindow): number => (p90Min ?? NaN) - (p10Min ?? NaN);
const sdOf = (job: FilmJob, uncertainty = BEAD_UNCERTAINTY): number =>
  probeFilm({ card: bodyFiller, constants: bodyConstants, job }, uncertainty).logSd;

describe('what is not measured of a batch', () => {
  it.each<[string, FilmJob]>([
    ['in usual air', plainJob],
    ['in a cold bay', { ...plainJob, airC: [[0, 10]] }],
    ['under a lamp', lamp],
  ])('widens a window as random members do, %s', (_, job) => {
    const members = randomMembers(job, 1500);
    const window = ask(job);
    const quantiles = [window.p10Min, window.p50Min, window.p90Min];
    [0.1, 0.5, 0.9].forEach((probability, index) => {
      const theirs = members[Math.floor(probability * members.length)] ?? NaN;
      // 1,500 members know a tenth of their distribution to about 1 %.
      expect(Math.abs((quantiles[index] ?? NaN) / theirs - 1)).toBeLessThan(0.025);
    });
  });

  it('makes most of the window where cooling after a lamp decides', () => {
    const known = ask(lamp, DEFAULT_WINDOW_PRIOR);
    expect(widthOf(known)).toBeLessThan(0.5);
    expect(widthOf(ask(lamp))).toBeGreaterThan(1.2);
    const gums = { atMin: 27, outcome: 'gums' } as const;
    const after = estimateWindow({
      card: bodyFiller,
      constants: bodyConstants,
      job: lamp,
      prior,
      checks: [gums],
    });
    expect(widthOf(after)).toBeGreaterThan(1.2);
    expect(after.p50Min).toBeGreaterThanOrEqual((ask(lamp).p50Min ?? NaN) - 1e-9);
  });

  it('leaves median and order, and is nothing when nothing is uncertain', () => {
    const none = {
      hardenerLogSd: 0,
      thicknessLogSd: 0,
      bayOffsetSdK: 0,
      heatSdJPerKg: 0,
      humidityEffectSd: 0,
      lampLogSd: 0,
    };
    expect(sdOf(lamp, none)).toBe(0);
    const same = ask(plainJob, { ...prior, film: none });
    const without = ask(plainJob, DEFAULT_WINDOW_PRIOR);
    expect(same.p90Min).toBe(without.p90Min);
    expect(Math.abs((ask(plainJob).p50Min ?? NaN) / (without.p50Min ?? NaN) - 1)).toBeLessThan(0.01);
    expect(ask(plainJob).p10Min).toBe(ask(plainJob).p10Min);
  });

  it('is less for a weighed hardener, and moves panel and cavity with the bay', () => {
    expect(sdOf(plainJob, { ...BEAD_UNCERTAINTY, hardenerLogSd: 0.03 })).toBeLessThan(sdOf(plainJob));
    const bayOnly = { ...BEAD_UNCERTAINTY, hardenerLogSd: 0, thicknessLogSd: 0, heatSdJPerKg: 0 };
    const rolledIn = { ...plainJob, cavityStartC: 12, panelStartC: 14, lampMinWPerM2: [] };
    expect(sdOf(rolledIn, bayOnly)).toBeGreaterThan(0.03);
    expect(sdOf(rolledIn, bayOnly)).toBeLessThan(0.07);
  });

  it('reads the humidity until the batch is ready', () => {
    const dampSd = (humidityPct: FilmJob['humidityPct']): number =>
      sdOf({ ...plainJob, humidityPct }, { ...BEAD_UNCERTAINTY, humidityEffectSd: 0.05 });
    const steady = dampSd([[0, 90]]);
    const none = dampSd([[0, 50]]);
    expect(steady).toBeGreaterThan(none);
    expect(
      dampSd([
        [0, 90],
        [400, 90],
      ]),
    ).toBeCloseTo(steady, 9);
    const rising = dampSd([
      [0, 50],
      [4, 50],
      [4, 60],
      [16, 90],
    ]);
    expect(rising).toBeGreaterThan(none);
    expect(rising).toBeLessThan(steady);
  });

  it('stalls as often as random members where a lamp thaws a frozen film', () => {
    const job = { ...plainJob, airC: [[0, -25]] as const, lampMinWPerM2: [[5, 20, 900]] as const };
    const ready = ask(job).probabilityAtMin(720);
    const member = { job, prior: { ...prior, film: BEAD_UNCERTAINTY }, checks: [] };
    const [before, after] = crowdQuantiles(member, { count: 3000, seed: 7 }, [ready - 0.1, ready + 0.1]);
    // 3,000 members know a share to 0.009; scales are solved so far apart that where films stall is known to a tenth only.
    expect(before).not.toBeNull();
    expect(after).toBeNull();
  });

  it('counts for nothing where the batch never is ready', () => {
    expect(sdOf({ ...plainJob, airC: [[0, -40]] })).toBe(0);
    expect(ask({ ...plainJob, airC: [[0, -8]], hardenerPct: 1 }).p90Min).toBeNull();
  });
});

/** Test times of members drawn at random, ascending. */
function randomMembers(job: FilmJob, count: number): number[] {
  const normal = makeNormal(20_260_119);
  const { hardenerLogSd, thicknessLogSd, bayOffsetSdK, heatSdJPerKg, lampLogSd } = BEAD_UNCERTAINTY;
  return Array.from({ length: count }, () => {
    const card = { ...bodyFiller, activationKJPerMol: 46 + 8 * normal() };
    const offsetK = bayOffsetSdK * normal();
    const flux = Math.exp(lampLogSd * normal());
    const member: FilmJob = {
      ...job,
      timeScale: Math.exp(0.12 * normal() + 0.13 * normal()),
      hardenerPct: job.hardenerPct * Math.exp(hardenerLogSd * normal()),
      thicknessMm: job.thicknessMm * Math.exp(thicknessLogSd * normal()),
      airC: job.airC.map(([atMin, value]) => [atMin, value + offsetK]),
      lampMinWPerM2: (job.lampMinWPerM2 ?? []).map(([from, to, value]) => [from, to, value * flux]),
    };
    const heatJPerKg = KINETICS.heatJPerKg + heatSdJPerKg * normal();
    return solveBatch(card, recalibrate(card) ?? bodyConstants, member, { heatJPerKg }).testMin ?? Infinity;
  }).sort((left, right) => left - right);
}

/** Box and Muller's cosine over a seeded linear congruence. */
function makeNormal(seed: number): () => number {
  let bits = seed >>> 0;
  const uniform = (): number => {
    bits = (Math.imul(bits, 1_664_525) + 1_013_904_223) >>> 0;
    return (bits + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
