// The colours: each written once, readable on what it stands on in light and in dark (WCAG 2.2 AA).
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

type Scheme = 'light' | 'dark';

const css = readFileSync(resolve(import.meta.dirname, '../../dashboard/tokens.css'), 'utf8');
const declared = [...css.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map(([, name = '', value = '']) => ({
  name,
  value,
}));
const pairs = new Map(
  declared.flatMap(({ name, value }) => {
    const [, light, dark] = /^light-dark\((#[\da-f]{6}), (#[\da-f]{6})\)$/.exec(value) ?? [];
    return light === undefined || dark === undefined ? [] : [[name, { light, dark }] as const];
  }),
);

/** Text and what it stands on. */
const texts: readonly (readonly [string, string])[] = [
  ...['--ground', '--surface', '--raised', '--idle'].flatMap((ground): [string, string][] => [
    ['--ink', ground],
    ['--ink-soft', ground],
  ]),
  ['--ink-faint', '--raised'],
  ['--on-act', '--act'],
  ['--on-go', '--go'],
  ['--on-soon', '--soon'],
  ['--on-stop', '--stop'],
  ['--on-idle', '--idle'],
  ['--on-putty', '--putty-wet'],
  ['--on-putty', '--putty-cured'],
  ['--soon-ink', '--surface'],
  ['--stop-ink', '--surface'],
  ['--soon-ink', '--ground'],
];

/** Lines and shapes that must be seen, not read. */
const shapes: readonly (readonly [string, string])[] = [
  ['--line-strong', '--surface'],
  ['--line-strong', '--ground'],
  ['--ink', '--ground'],
  ['--go', '--surface'],
];

const TEXT_RATIO = 4.5;
const SHAPE_RATIO = 3;

function luminanceOf(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((start) => {
    const share = Number.parseInt(hex.slice(start, start + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrastRatio(names: readonly [string, string], scheme: Scheme): number {
  const [one = 0, other = 0] = names.map((name) => luminanceOf(pairs.get(name)?.[scheme] ?? ''));
  return (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
}

describe('the tokens', () => {
  it('stand there once each', () => {
    const names = declared.map(({ name }) => name);
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
  });

  it('give every colour for light and for dark', () => {
    expect(declared.filter(({ value }) => /^#|^rgb/.test(value)).map(({ name }) => name)).toEqual([]);
    expect(pairs.size).toBeGreaterThan(20);
  });
});

describe.each(['light', 'dark'] as const)('in %s', (scheme) => {
  it.each(texts)('%s can be read on %s', (text, ground) => {
    expect(contrastRatio([text, ground], scheme)).toBeGreaterThanOrEqual(TEXT_RATIO);
  });

  it.each(shapes)('%s can be seen on %s', (shape, ground) => {
    expect(contrastRatio([shape, ground], scheme)).toBeGreaterThanOrEqual(SHAPE_RATIO);
  });
});
