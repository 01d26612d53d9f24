// What a job may hold, and what is said of one that may not.
import { describe, expect, it } from 'vitest';
import { type FilmJob, judgeJob } from '../../server/engine/index.ts';
import { plainJob } from './samples.ts';

const full: FilmJob = {
  ...plainJob,
  cavityStartC: 4,
  panelStartC: 35,
  mixC: 8,
  lampMinWPerM2: [[10, 25, 900]],
  movingAir: true,
  underlayMm: 3,
  timeScale: 1.3,
};

describe('a job', () => {
  it.each([
    ['with the least it needs', plainJob],
    ['with everything', full],
    [
      'at its bounds',
      {
        ...full,
        thicknessMm: 12,
        airC: [
          [0, -40],
          [0, 60],
        ] as const,
        humidityPct: [[0, 104]] as const,
      },
    ],
  ])('%s is let through', (_, job) => {
    expect(judgeJob(job)).toEqual([]);
  });

  it.each<[string, Partial<FilmJob>, string, string]>([
    ['an unknown substrate', { substrate: 'oak' as 'steel' }, 'substrate', 'oak'],
    ['a film too thick', { thicknessMm: 12.1 }, 'thicknessMm', 'above 12'],
    ['too little hardener', { hardenerPct: 0.4 }, 'hardenerPct', 'below 0.5'],
    [
      'air below the coldest',
      {
        airC: [
          [0, 20],
          [5, -41],
        ],
      },
      'airC.1.1',
      'below -40',
    ],
    ['no air', { airC: [] }, 'airC', 'no point'],
    ['air that is no number', { airC: [[0, Number.NaN]] }, 'airC.0.1', 'not a finite number'],
    [
      'air out of order',
      {
        airC: [
          [3, 20],
          [2, 20],
        ],
      },
      'airC.1.0',
      'before minute 3',
    ],
    ['air at an absurd minute', { airC: [[1e9, 20]] }, 'airC.0.0', 'above 10080'],
    [
      'too much air',
      { airC: Array.from({ length: 20_001 }, () => [0, 20] as const) },
      'airC',
      '20001 points',
    ],
    ['humidity above what sensors say', { humidityPct: [[0, 105]] }, 'humidityPct.0.1', 'above 104'],
    ['a panel on fire', { panelStartC: 400 }, 'panelStartC', 'above 100'],
    ['a time scale of nothing', { timeScale: 0 }, 'timeScale', 'below 0.1'],
    ['a lamp like the sun', { lampMinWPerM2: [[0, 5, 3001]] }, 'lampMinWPerM2.0.2', 'above 3000'],
    ['a lamp that ends first', { lampMinWPerM2: [[5, 4, 300]] }, 'lampMinWPerM2.0.1', 'before it begins'],
    ['a lamp from never', { lampMinWPerM2: [[Number.NaN, 4, 300]] }, 'lampMinWPerM2.0.0', 'finite'],
    [
      'a flickering lamp',
      { lampMinWPerM2: Array.from({ length: 201 }, () => [0, 1, 1] as const) },
      'lampMinWPerM2',
      '201 spells',
    ],
  ])('with %s is rejected by field and reason', (_, change, path, reason) => {
    const rejections = judgeJob({ ...plainJob, ...change });
    expect(rejections).toHaveLength(1);
    expect(rejections[0]?.path).toBe(path);
    expect(rejections[0]?.reason).toContain(reason);
    expect(rejections[0]?.allowed).not.toBe('');
  });
});
