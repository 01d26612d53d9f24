// How often something may be tried: a burst, then one by one, for each source and for all together.
import { array, assert, nat, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLimiter, makePacer } from '../../server/application/accessLimits.ts';

const EACH = { burstCount: 3, refillMs: 1000 };

describe('makeLimiter', () => {
  it('lets a burst through, then says how long to wait', () => {
    const limiter = makeLimiter(EACH);
    expect([1, 2, 3].map(() => limiter.take('a', 0))).toEqual([null, null, null]);
    expect(limiter.take('a', 0)).toBe(1000);
    expect(limiter.take('a', 400)).toBe(600);
    expect(limiter.take('a', 1000)).toBeNull();
    expect(limiter.take('a', 1000)).toBe(1000);
  });

  it('counts each source by itself, and forgives one that has shown that it may', () => {
    const limiter = makeLimiter(EACH);
    for (let count = 0; count < 4; count += 1) limiter.take('a', 0);
    expect(limiter.take('b', 0)).toBeNull();
    limiter.forgive('a');
    expect(limiter.take('a', 0)).toBeNull();
  });

  it('counts a large try as many: it passes, and the next waits for all of it', () => {
    const limiter = makeLimiter(EACH);
    expect(limiter.take('a', 0, 10)).toBeNull();
    expect(limiter.take('a', 0)).toBe(8000);
    expect(limiter.take('a', 8000)).toBeNull();
  });

  it('holds all sources together to a limit of their own', () => {
    const limiter = makeLimiter(EACH, { burstCount: 5, refillMs: 60_000 });
    const answers = Array.from({ length: 8 }, (_, index) => limiter.take(`source ${index}`, 0));
    expect(answers.filter((wait) => wait === null)).toHaveLength(5);
    expect(answers.at(-1)).toBe(60_000);
  });

  it('lets no more through in any span than burst and refill, whatever the order of tries', () => {
    assert(
      property(array(nat(5000), { maxLength: 60 }), (gaps) => {
        const limiter = makeLimiter(EACH);
        let nowMs = 0;
        let passedCount = 0;
        for (const gap of gaps) {
          nowMs += gap;
          if (limiter.take('a', nowMs) === null) passedCount += 1;
        }
        expect(passedCount).toBeLessThanOrEqual(EACH.burstCount + nowMs / EACH.refillMs);
      }),
      { seed: 8, numRuns: 200 },
    );
  });

  it('remembers a bounded number of sources', () => {
    const limiter = makeLimiter({ burstCount: 1, refillMs: 1e9 });
    limiter.take('first', 0);
    for (let index = 0; index < 2000; index += 1) limiter.take(`other ${index}`, 0);
    expect(limiter.take('first', 0)).toBeNull();
  });
});

describe('makePacer', () => {
  it('lets a burst through at once, and each one after it a step later', () => {
    const pacer = makePacer(EACH);
    expect([1, 2, 3, 4, 5].map(() => pacer.take('a', 0))).toEqual([0, 0, 0, 1000, 2000]);
    expect(pacer.take('b', 0)).toBe(0);
  });

  it('has forgotten a burst once it would have gone at its pace', () => {
    const pacer = makePacer(EACH);
    for (let count = 0; count < 5; count += 1) pacer.take('a', 0);
    expect(pacer.take('a', 3000)).toBe(0);
    expect(pacer.take('a', 3000)).toBe(1000);
    expect([1, 2, 3, 4].map(() => pacer.take('a', 60_000))).toEqual([0, 0, 0, 1000]);
  });
});
