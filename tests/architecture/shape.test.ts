// Files, functions and parameter lists stay small enough to be read at once.
import { beforeAll, describe, expect, it } from 'vitest';
import {
  bodyLinesMax,
  fileLinesMax,
  findBarrels,
  findLongFiles,
  findLongFunctions,
  findManyParameters,
  findSwappableParameters,
} from './shapes.ts';
import { expectNone, parseText, sampleProject, shippedProject } from './sources.ts';

beforeAll(() => void shippedProject());

describe('shipped code', () => {
  it(`keeps a file to ${fileLinesMax} lines`, () => {
    expectNone(findLongFiles(shippedProject().files));
  });

  it(`keeps a function body to ${bodyLinesMax} lines`, () => {
    expectNone(findLongFunctions(shippedProject().files));
  });

  it('takes at most four positional parameters', () => {
    expectNone(findManyParameters(shippedProject().files));
  });

  it('leaves no two neighbouring parameters of one type to be swapped', () => {
    expectNone(findSwappableParameters(shippedProject()));
  });

  it('gathers exports in engine/index.ts and contract/index.ts only', () => {
    expectNone(findBarrels(shippedProject().files));
  });
});

describe('the shape rules', () => {
  const lines = (count: number, line: string): string => `${line}\n`.repeat(count);

  it('see a file of one line too many, and leave its tables out of the count', () => {
    const table = `const table = [\n${lines(400, '  { a: 1 },')}] as const;\n`;
    const code = lines(fileLinesMax, 'f();');
    expect(findLongFiles([parseText('server/a.ts', code)])).toEqual([]);
    expect(findLongFiles([parseText('server/a.ts', code + table)])).toEqual([]);
    expect(findLongFiles([parseText('server/a.ts', `${code}f();`)])).toHaveLength(1);
    expect(findLongFiles([parseText('server/a.ts', table.replace('1', 'f()'))])).toHaveLength(1);
  });

  it('see a body of one line too many, in a function, a method and an arrow', () => {
    const body = (count: number): string => `{\n${lines(count, 'f();')}}`;
    const texts = (count: number): string[] => [
      `function a() ${body(count)}`,
      `class A { a() ${body(count)} }`,
      `const a = () => ${body(count)};`,
    ];
    const found = (count: number) =>
      texts(count).map((text) => findLongFunctions([parseText('server/a.ts', text)]).length);
    expect(found(bodyLinesMax)).toEqual([0, 0, 0]);
    expect(found(bodyLinesMax + 1)).toEqual([1, 1, 1]);
  });

  it('see a fifth parameter', () => {
    const found = (text: string) => findManyParameters([parseText('server/a.ts', text)]).length;
    expect(found('function a(b: A, c: B, d: C, e: D) {}')).toBe(0);
    expect(found('function a(b: A, c: B, d: C, e: D, f: E) {}')).toBe(1);
  });

  it.each([
    [1, 'server/domain/a.ts', 'export function a(b: string, c: string): void {}'],
    [1, 'server/domain/a.ts', 'export const a = (b: boolean, c: number, d: number): void => {};'],
    [1, 'server/domain/a.ts', 'export class A { constructor(b: string, c: string) {} }'],
    [0, 'server/domain/a.ts', 'function a(b: string, c: string): void {}'],
    [0, 'server/domain/a.ts', 'export function a(b: string, c: number, d: string): void {}'],
    [0, 'server/domain/a.ts', 'export function a(b: string & { b: 1 }, c: string & { c: 1 }): void {}'],
    [0, 'server/domain/a.ts', 'export function compareBays(b: string, c: string): void {}'],
    [0, 'server/engine/a.ts', 'export function a(b: number, c: number): void {}'],
  ])('see %i pair to swap in %s: %s', (count, path, text) => {
    expect(findSwappableParameters(sampleProject({ [path]: text }))).toHaveLength(count);
  });

  it.each([
    [1, 'server/domain/index.ts', "export * from './a.ts';"],
    [1, 'server/domain/b.ts', "export { a } from './a.ts';"],
    [1, 'server/domain/b.ts', "import { a } from './a.ts';\nexport { a };"],
    [1, 'server/domain/b.ts', "import a from './a.ts';\nexport default a;"],
    [0, 'server/domain/b.ts', 'const a = 1;\nexport { a };'],
    [0, 'server/engine/index.ts', "export * from './a.ts';"],
  ])('see %i barrel in %s: %s', (count, path, text) => {
    expect(findBarrels([parseText(path, text)])).toHaveLength(count);
  });
});
