// The laws of MODEL §7, whatever the solver, and the corners of one film.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SURFACES } from '../../server/engine/constants.ts';
import { Fault, type FilmJob, solveFilm } from '../../server/engine/index.ts';
import { STEPS_MAX } from '../../server/engine/marchFilm.ts';
import { beginFilm, makeFilmState } from '../../server/engine/filmState.ts';
import { marchOn, marchStep } from '../../server/engine/marchFilm.ts';
import { readyFilm } from '../../server/engine/stepFilm.ts';
import { warmInside } from '../../server/engine/conductFilm.ts';
import {
  airC,
  bodyConstants,
  bodyFiller,
  fixed,
  hardenerPct,
  lamplessJob,
  lampMinWPerM2,
  plainJob,
  solveBody,
} from './samples.ts';

const minute = (at: number | null): number => at ?? Infinity;
/** What two solutions may differ by without meaning it: the solver's own error. */
const noise = 1.002;

describe('a film', () => {
  it('keeps its conversion between 0 and 1 and never lets it fall', () => {
    fc.assert(
      fc.property(lamplessJob, fc.option(lampMinWPerM2, { nil: [] }), (job, lamp) => {
        const sampleAtMin = Array.from({ length: 60 }, (_, index) => index * 1.5);
        const { samples } = solveFilm(
          bodyFiller,
          bodyConstants,
          { ...job, lampMinWPerM2: lamp },
          { sampleAtMin },
        );
        samples.forEach(({ minConversion, maxConversion }, index) => {
          const before = samples[index - 1];
          expect(minConversion).toBeGreaterThanOrEqual(before?.minConversion ?? 0);
          expect(maxConversion).toBeGreaterThanOrEqual(before?.maxConversion ?? 0);
          expect(maxConversion).toBeGreaterThanOrEqual(minConversion);
          expect(maxConversion).toBeLessThan(1);
        });
      }),
      fixed,
    );
  });

  it('moves its instants by less than the tolerance with a finer step and twice the nodes', () => {
    fc.assert(
      fc.property(lamplessJob, fc.option(lampMinWPerM2, { nil: [] }), (plain, lamp) => {
        const job = { ...plain, lampMinWPerM2: lamp };
        const usual = solveFilm(bodyFiller, bodyConstants, job);
        const fine = solveFilm(bodyFiller, bodyConstants, job, { nodeCount: 14, tolerance: 2e-5 });
        for (const instant of ['gelMin', 'sandMin', 'coolMin'] as const) {
          const allowedMin = Math.max(0.05, 0.005 * minute(fine[instant]));
          expect(Math.abs(minute(usual[instant]) - minute(fine[instant]))).toBeLessThan(allowedMin);
        }
        expect(Math.abs(usual.peakC - fine.peakC)).toBeLessThan(0.3);
      }),
      fixed,
    );
  });

  it('without a lamp is never later or less cured in hotter air', () => {
    fc.assert(
      fc.property(lamplessJob, fc.double({ min: 0.1, max: 8, noNaN: true }), (job, warmerK) => {
        const sampleAtMin = [5, 10, 15, 20, 30, 45];
        const hotter = { ...job, airC: job.airC.map(([atMin, value]) => [atMin, value + warmerK] as const) };
        const before = solveFilm(bodyFiller, bodyConstants, job, { sampleAtMin });
        const after = solveFilm(bodyFiller, bodyConstants, hotter, { sampleAtMin });
        expect(minute(after.gelMin)).toBeLessThanOrEqual(minute(before.gelMin) * noise);
        expect(minute(after.sandMin)).toBeLessThanOrEqual(minute(before.sandMin) * noise);
        after.samples.forEach(({ minConversion }, index) => {
          expect(minConversion).toBeGreaterThanOrEqual((before.samples[index]?.minConversion ?? 0) - 0.002);
        });
      }),
      fixed,
    );
  });

  it('is never later with more hardener', () => {
    fc.assert(
      fc.property(lamplessJob, hardenerPct, (job, moreHardenerPct) => {
        const less = Math.min(job.hardenerPct, moreHardenerPct);
        const more = Math.max(job.hardenerPct, moreHardenerPct);
        const slow = solveFilm(bodyFiller, bodyConstants, { ...job, hardenerPct: less });
        const fast = solveFilm(bodyFiller, bodyConstants, { ...job, hardenerPct: more });
        expect(minute(fast.gelMin)).toBeLessThanOrEqual(minute(slow.gelMin) * noise);
        expect(minute(fast.sandMin)).toBeLessThanOrEqual(minute(slow.sandMin) * noise);
      }),
      fixed,
    );
  });

  it('is never a later build when thicker, up to 6 mm in air from 15 °C', () => {
    fc.assert(
      fc.property(
        lamplessJob,
        fc.integer({ min: 15, max: 33 }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (job, air, times) => {
          const thin = { ...job, airC: [[0, air]] as const };
          const thick = { ...thin, thicknessMm: Math.min(6, job.thicknessMm * times) };
          expect(minute(solveFilm(bodyFiller, bodyConstants, thick).sandMin)).toBeLessThanOrEqual(
            minute(solveFilm(bodyFiller, bodyConstants, thin).sandMin) * noise,
          );
        },
      ),
      fixed,
    );
  });

  it('stores or loses exactly the heat that cure and lamp bring in', () => {
    fc.assert(
      fc.property(lamplessJob, fc.option(lampMinWPerM2, { nil: [] }), (plain, lamp) => {
        const { inJPerM2, outJPerM2 } = balanceOf({ ...plain, airC: [[0, 18]], lampMinWPerM2: lamp });
        expect(Math.abs(outJPerM2 / inJPerM2 - 1)).toBeLessThan(2e-3);
      }),
      { ...fixed, numRuns: 40 },
    );
  });

  it('does not care about points on a straight line of its air', () => {
    const rough = solveBody({
      airC: [
        [0, 12],
        [40, 24],
      ],
    });
    const fine = solveBody({
      airC: Array.from({ length: 81 }, (_, index) => [index / 2, 12 + 0.15 * index] as const),
    });
    expect(Math.abs(minute(fine.sandMin) / minute(rough.sandMin) - 1)).toBeLessThan(2e-3);
  });

  it('gives the same answer after any other film', () => {
    fc.assert(
      fc.property(lamplessJob, airC(5, 30), (job, otherC) => {
        const first = solveFilm(bodyFiller, bodyConstants, job);
        solveBody({ airC: otherC, thicknessMm: 5 });
        expect(solveFilm(bodyFiller, bodyConstants, job)).toEqual(first);
      }),
      { ...fixed, numRuns: 30 },
    );
  });
});

describe('a film at the edges of what can be', () => {
  it('has no instants past 12 h and is called stalled', () => {
    const film = solveBody({ airC: [[0, -40]], timeScale: 5 });
    expect(film).toMatchObject({ gelMin: null, sandMin: null, coolMin: null, outcome: 'stalled' });
  });

  it('is sampled past 12 h when asked, in the order asked for', () => {
    const film = solveFilm(
      bodyFiller,
      bodyConstants,
      { ...plainJob, airC: [[0, -30]] },
      { sampleAtMin: [900, 0, 60] },
    );
    expect(film.samples.map(({ atMin }) => atMin)).toEqual([900, 0, 60]);
    expect(film.outcome).toBe('stalled');
    expect(film.samples[0]?.frontC).toBeCloseTo(-30, 1);
  });

  it('gels but does not become sandable when far too cold for it', () => {
    const film = solveBody({
      airC: [
        [0, 20],
        [8, 20],
        [9, -35],
      ],
      thicknessMm: 0.5,
    });
    expect(film.gelMin).not.toBeNull();
    expect(film.sandMin).toBeNull();
  });

  it('never cools in air above 45 °C', () => {
    const film = solveBody({ airC: [[0, 50]] });
    expect(film.sandMin).not.toBeNull();
    expect(film.coolMin).toBeNull();
    expect(film.outcome).toBe('sandable');
  });

  it('cools at the instant it is sandable when it is not hot', () => {
    const film = solveBody();
    expect(film.coolMin).toBe(film.sandMin);
  });

  it('says so when its steps are used up', () => {
    const film = solveFilm(bodyFiller, bodyConstants, plainJob, { tolerance: 1e-30 });
    expect(film).toMatchObject({ outcome: 'unfinished', stepCount: STEPS_MAX, sandMin: null });
  });

  it('refuses a number of nodes that no film has', () => {
    expect(() => solveFilm(bodyFiller, bodyConstants, plainJob, { nodeCount: 17 })).toThrow(Fault);
  });

  it('finds its hottest moment inside a step', () => {
    const { sandMin, peakC } = solveBody({ airC: [[0, 10]], thicknessMm: 6 });
    const sampleAtMin = Array.from({ length: 400 }, (_, index) => (minute(sandMin) * index) / 399);
    const { samples } = solveFilm(
      bodyFiller,
      bodyConstants,
      { ...plainJob, airC: [[0, 10]], thicknessMm: 6 },
      { sampleAtMin },
    );
    const sampled = Math.max(...samples.flatMap(({ frontC, backC }) => [frontC, backC]));
    expect(peakC).toBeGreaterThan(sampled - 0.01);
    expect(peakC).toBeLessThan(sampled + 0.5);
  });

  it('counts humidity above 100 % as 100 %, and lets its own effect work', () => {
    const damp = { ...bodyFiller, humidityEffectPer10Pct: 0.02 };
    const at = (humidityPct: FilmJob['humidityPct']): number =>
      minute(solveFilm(damp, bodyConstants, { ...plainJob, humidityPct }).sandMin);
    expect(at([[0, 104]])).toBe(at([[0, 100]]));
    expect(at([[0, 90]])).toBeGreaterThan(at([[0, 50]]));
    expect(
      at([
        [0, 50],
        [10, 90],
      ]),
    ).toBeGreaterThan(at([[0, 50]]));
    expect(
      at([
        [0, 102],
        [30, 104],
      ]),
    ).toBe(at([[0, 100]]));
  });

  it('takes the air before its first reading as that reading', () => {
    expect(solveBody({ airC: [[5, 17]] }).sandMin).toBeCloseTo(
      minute(solveBody({ airC: [[0, 17]] }).sandMin),
      2,
    );
    const early = solveBody({
      airC: [
        [-10, 7],
        [10, 27],
      ],
    });
    expect(early.sandMin).toBeCloseTo(
      minute(
        solveBody({
          airC: [
            [0, 17],
            [10, 27],
          ],
        }).sandMin,
      ),
      2,
    );
  });

  it('follows air that jumps between two readings of one minute', () => {
    const jump = solveBody({
      airC: [
        [0, 20],
        [6, 20],
        [6, 10],
      ],
    });
    const steep = solveBody({
      airC: [
        [0, 20],
        [6, 20],
        [6.001, 10],
      ],
    });
    expect(jump.sandMin).toBeCloseTo(minute(steep.sandMin), 1);
  });

  it('adds lamps whose spells overlap', () => {
    const one = solveBody({ airC: [[0, 12]], lampMinWPerM2: [[5, 15, 600]] });
    const two = solveBody({
      airC: [[0, 12]],
      lampMinWPerM2: [
        [5, 15, 250],
        [5, 15, 350],
      ],
    });
    expect(two.sandMin).toBeCloseTo(minute(one.sandMin), 9);
  });

  it('on a panel whose own lag is that of its cavity stays regular', () => {
    // Film, underlay and plastic of 75.6 kJ/m²K over 14 W/m²K lag by the cavity's 5400 s.
    const around = [34.79, 34.8, 34.81, 34.82, 34.83].map((underlayMm) =>
      minute(
        solveBody({ thicknessMm: 0.5, substrate: 'plastic', underlayMm: underlayMm - 0.5, cavityStartC: 5 })
          .sandMin,
      ),
    );
    for (const sandMin of around) expect(sandMin).toBeCloseTo(around[0] ?? 0, 1);
  });
});

/** Heat brought in by cure and lamp, and heat stored or lost to air of one temperature, over 40 minutes. */
function balanceOf(job: FilmJob): { inJPerM2: number; outJPerM2: number } {
  const state = makeFilmState();
  beginFilm(state, { card: bodyFiller, constants: bodyConstants, job, nodeCount: 8, heatJPerKg: 55_000 });
  readyFilm(state);
  const { filmJPerM2K, nodeJPerM2K, nodeCount } = state.operator;
  const march = { proposedS: 10, stepCount: 0 };
  const airK = state.baseK;
  let lostJPerM2 = 0;
  let lampJPerM2 = 0;
  while (state.atS < 2400) {
    const stepS = marchStep(state, march, { endS: 2400, tolerance: 1e-5 });
    lampJPerM2 += state.drive.lampWPerM2 * stepS;
    const parts = 32;
    for (let part = 0; part < parts; part++) {
      warmInside(state, stepS, (stepS * (part + 0.5)) / parts);
      const front = (state.nodeK[0] ?? 0) - airK;
      const back = (state.nodeK[nodeCount - 1] ?? 0) - airK;
      lostJPerM2 += ((state.frontWPerM2K * front + SURFACES.behindPanelWPerM2K * back) * stepS) / parts;
    }
    marchOn(state, stepS);
  }
  warmInside(state, 1, 0);
  let storedJPerM2 = 0;
  let curedJPerM2 = 0;
  for (let i = 0; i < nodeCount; i++) {
    storedJPerM2 += (nodeJPerM2K[i] ?? 0) * ((state.nodeK[i] ?? 0) - airK);
    curedJPerM2 += (filmJPerM2K[i] ?? 0) * (55_000 / 1120) * (state.startConversions[i] ?? 0);
  }
  return { inJPerM2: lampJPerM2 + curedJPerM2, outJPerM2: storedJPerM2 + lostJPerM2 };
}
