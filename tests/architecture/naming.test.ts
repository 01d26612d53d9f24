// Every number says its unit by its name, or stands on a closed list of dimensionless names.
import { beforeAll, describe, expect, it } from 'vitest';
import { dimensionlessNames, dimensionlessWords } from './dimensionless.ts';
import { expectNone, sampleProject, shippedProject } from './sources.ts';
import { findUnitlessNames } from './unitNames.ts';

beforeAll(() => void shippedProject());

describe('names of numbers', () => {
  it('end in a unit or stand on the dimensionless list', () => {
    const project = shippedProject();
    expect(project.files.length).toBeGreaterThan(0);
    expectNone(findUnitlessNames(project));
  });

  it('are on the dimensionless list with a reason, and never twice', () => {
    const reasons = [...Object.values(dimensionlessWords), ...Object.values(dimensionlessNames)];
    expect(reasons.filter((reason) => reason.trim() === '')).toEqual([]);
    expect(Object.keys(dimensionlessNames).filter((name) => name in dimensionlessWords)).toEqual([]);
  });

  const schemas = "import { z } from 'zod';\n";
  const instants = "import type { Instant } from './instant.ts';\n";
  it.each([
    ['a field', 'export interface Air { temperature: number }', ['temperature']],
    ['a nullable field', 'export interface Air { temperature: number | null }', ['temperature']],
    ['an optional field', 'export interface Air { temperature?: number }', ['temperature']],
    ['a class field', 'export class Air { temperature = 20 }', ['temperature']],
    ['a list', 'export interface Air { temperatures: readonly number[] }', ['temperatures']],
    ['a typed array', 'export interface Air { temperatures: Float64Array }', ['temperatures']],
    [
      'a branded number',
      "type Grade = number & { brand: 'g' };\nexport interface A { grit: Grade }",
      ['grit'],
    ],
    ['a parameter', 'export function heat(temperature: number): void { void temperature; }', ['temperature']],
    [
      'a parameter of an arrow',
      'export const heat = (temperature: number): number => temperature;',
      ['temperature'],
    ],
    ['a parameter of a port', 'export interface Port { heat(temperature: number): void }', ['temperature']],
    ['a parameter of a function type', 'export type Rate = (time: number) => void;', ['time']],
    ['a module variable', 'export const TEMPERATURE = 20;', ['TEMPERATURE']],
    ['a one-letter field', 'export interface Air { k: number }', ['k']],
    [
      'a unit that does not stand last',
      'export interface Air { temperatureCMax: number }',
      ['temperatureCMax'],
    ],
    ['a bound without a quantity', 'export interface Air { temperatureMax: number }', ['temperatureMax']],
    ['a unit inside a word', 'export interface Air { SPAC: number }', ['SPAC']],
    ['a schema', `${schemas}export const air = z.object({ temperature: z.number() });`, ['temperature']],
    [
      'a wrapped schema',
      `${schemas}export const a = z.object({ temperature: z.int().nullable() });`,
      ['temperature'],
    ],
    ['an instant', `${instants}export interface Batch { mixed: Instant | null }`, ['mixed']],
    ['an instant in minutes', `${instants}export interface Batch { mixedMin: Instant }`, ['mixedMin']],
  ])('are found without a unit in %s', (_, text, names) => {
    const found = findUnitlessNames(sampleProject({ 'server/contract/sample.ts': text }));
    expect(found.map(({ says }) => /`(\w+)`/.exec(says)?.[1])).toEqual(names);
  });

  it.each([
    [
      'units',
      'export interface Air { airTemperatureMaxC: number; fluxWPerM2: number; energyKJPerMol: number[] }',
    ],
    [
      'units of constants',
      'export const GAS_CONSTANT_J_PER_MOL_K = 8.3, HEAT_KJ_PER_MOL = 1, FILM_MAX_MM = 6;',
    ],
    [
      'counts',
      'export interface Ledger { factSequence: number; openCounts: number[]; ATTEMPT_COUNT_MAX: 3 }',
    ],
    [
      'plurals',
      'export interface Film { conversions: Float64Array; probabilities: number[]; indices: number[] }',
    ],
    [
      'instants',
      `${instants}export interface Batch { at: Instant; mixedAt: Instant | null; readAt: number }`,
    ],
    [
      'symbols in bodies',
      'export function f(): number { const k = 1; return [k].map((x) => x * k)[0] ?? 0; }',
    ],
    ['texts and flags', 'export interface Bay { name: string; open: boolean; mixed: string | number }'],
    ['unit schemas', `${schemas}export const air = z.object({ airTemperatureC: z.number().optional() });`],
  ])('are let through as %s', (_, text) => {
    expectNone(findUnitlessNames(sampleProject({ 'server/contract/sample.ts': text })));
  });
});
