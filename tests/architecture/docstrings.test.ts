// Every export says what it is; in the engine with unit, parameters and source.
import { beforeAll, describe, expect, it } from 'vitest';
import { findUncommentedFunctions, findUndocumentedEngine } from './comments.ts';
import { expectNone, parseText, sampleProject, shippedProject } from './sources.ts';

beforeAll(() => void shippedProject());

describe('exports', () => {
  it('carry unit, parameters, returns and source in the engine', () => {
    expectNone(findUndocumentedEngine(shippedProject()));
  });

  it('carry a sentence when they are functions elsewhere', () => {
    expectNone(findUncommentedFunctions(shippedProject().files));
  });
});

describe('the comment rules', () => {
  const full = [
    '/**',
    ' * Rate of conversion [1/s].',
    ' * rate = k (1 - α)',
    ' * @param conversion  [1] 0…1',
    ' * @returns rate [1/s], ≥ 0',
    ' * @throws Fault when conversion lies outside',
    ' * @source Smith 1990, eq. 4; model version 1',
    ' */',
    'export function rateAt(conversion: number): number { if (conversion < 0) throw new Error(); return 1; }',
  ];
  const lacks = (lines: readonly string[]): string[] => {
    const project = sampleProject({ 'server/engine/sample.ts': lines.join('\n') });
    return findUndocumentedEngine(project).map(({ says }) => says);
  };
  const without = (part: string): string[] => full.filter((line) => !line.includes(part));

  it('are content with a full engine comment', () => {
    expect(lacks(full)).toEqual([]);
  });

  it.each([
    ['@param conversion', 'describe with @param conversion'],
    ['@returns', 'say with @returns what comes back'],
    ['@throws', 'say with @throws when it throws'],
    ['@source', 'name with @source where it comes from, or that it is our own'],
  ])('miss %s in the engine', (part, says) => {
    expect(lacks(without(part))).toEqual([`rateAt: ${says}`]);
  });

  it('miss a unit in the summary, of a parameter and of a constant', () => {
    const bare = full.map((line) => line.replace('conversion [1/s].', 'conversion.'));
    expect(lacks(bare)).toEqual(['rateAt: give the unit in the summary in brackets, [1] when none']);
    expect(lacks(full.map((line) => line.replace('[1] 0…1', '0…1')))).toEqual([
      'rateAt: give the unit of conversion in brackets, [1] when it has none',
    ]);
    expect(
      lacks(['/** Molar gas constant. */', 'export const GAS_CONSTANT_J_PER_MOL_K = 8.3;']),
    ).toHaveLength(1);
    expect(lacks(['/** Gas constant [J/mol K]. */', 'export const GAS_CONSTANT_J_PER_MOL_K = 8.3;'])).toEqual(
      [],
    );
  });

  it('miss a comment, a summary and the order of tags', () => {
    expect(lacks(full.slice(-1))).toEqual(['rateAt: write a doc comment above it']);
    expect(lacks(['export interface Film { a: string }'])).toEqual(['Film: write a doc comment above it']);
    expect(lacks(['/** A film. */', 'export interface Film { a: string }'])).toEqual([]);
    const turned = [...full.slice(0, 3), ...full.slice(3, 7).toReversed(), ...full.slice(7)];
    expect(lacks(turned)).toHaveLength(1);
  });

  it.each([
    [1, 'export function a(): void {}'],
    [1, 'export const a = (): void => {};'],
    [1, '// Says what the file is.\n\nexport function a(): void {}'],
    [0, '/** Does a thing. */\nexport function a(): void {}'],
    [0, '// Does a thing.\nexport const a = (): void => {};'],
    [0, 'function a(): void {}'],
    [0, 'export const a = 1;'],
  ])('see %i function without a sentence in: %s', (count, text) => {
    expect(findUncommentedFunctions([parseText('server/domain/a.ts', text)])).toHaveLength(count);
  });
});
