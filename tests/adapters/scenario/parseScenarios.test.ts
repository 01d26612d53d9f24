// What a scenario file may hold: each row is a way to get it wrong, with the field and the reason that are told.
import { describe, expect, it } from 'vitest';
import { parseScenarios, rejectionIn } from '../../../server/adapters/scenario/parseScenarios.ts';
import reference from '../../fixtures/reference/cure-scenarios.json' with { type: 'json' };

const [good] = reference.scenarios;
const text = JSON.stringify(good);

/** The good scenario's text with one part of it in other words. */
function changed(part: string, into: string): string {
  if (!text.includes(part)) throw new Error(`the good scenario has no ${part}`);
  return text.replace(part, into);
}

/** The good scenario with further fields. */
function added(fields: string): string {
  return `${text.slice(0, -1)},${fields}}`;
}

function rejectionOf(input: string): { path: string; reason: string; allowed: string } {
  const parsed = parseScenarios(input);
  if (parsed.kind === 'parsed') throw new Error('was taken');
  return parsed.rejection;
}

const AIR = '"airC":[[0,20]]';
const ONE_POINT = '[0,20]';

describe('a scenario file', () => {
  it('is taken as the reference file stands', () => {
    const parsed = parseScenarios(JSON.stringify(reference));
    expect(parsed.kind === 'parsed' && parsed.scenarios.map(({ place }) => place)).toEqual(
      reference.scenarios.map((_, index) => `scenarios.${index}`),
    );
  });

  it('is taken as one scenario with everything that it may hold', () => {
    const full = added('"sampleAtMin":[5,1],"nowMin":20,"checks":[{"atMin":20,"outcome":"gums"}]');
    expect(parseScenarios(full)).toMatchObject({
      kind: 'parsed',
      scenarios: [{ place: '', scenario: { name: good?.name, nowMin: 20, sampleAtMin: [5, 1] } }],
    });
  });

  it.each<[what: string, input: string, path: string, reason: RegExp]>([
    ['nothing', '', '', /is empty/],
    ['blanks', ' \n\t ', '', /is empty/],
    ['half an object', text.slice(0, -2), '', /is not JSON/],
    ['two objects', `${text}\n${text}`, '', /is not JSON/],
    ['a NaN', changed('"thicknessMm":2', '"thicknessMm":NaN'), '', /is not JSON/],
    ['null', 'null', '', /is not an object/],
    ['a number', '17', '', /is not an object/],
    ['a list of scenarios without their object', `[${text}]`, '', /is not an object/],
    ['an empty object', '{}', 'card', /is missing/],
    ['no scenarios', '{"scenarios":[]}', 'scenarios', /is too short/],
    ['scenarios that are no list', `{"scenarios":${text}}`, 'scenarios', /is not a list/],
    ['too many scenarios', `{"scenarios":[${'0,'.repeat(10_000)}0]}`, 'scenarios', /is too long/],
    ['an unknown key of the file', `{"scenarios":[${text}],"shop":1}`, 'shop', /is not a field/],
    ['a second scenario of nothing', `{"scenarios":[${text},null]}`, 'scenarios.1', /is not an object/],
    ['an unknown key of a scenario', added('"air":20'), 'air', /is not a field/],
    ['a key of the file in a scenario', added('"about":"x"'), 'about', /is not a field/],
    ['a key of objects themselves', added('"constructor":1'), 'constructor', /is not a field/],
    ['an unknown key of a card', changed('"atC":20', '"atC":20,"lowestC":5'), 'card.lowestC', /not a field/],
    ['an unknown key of a job', changed('"job":{', '"job":{"lampW":1,'), 'job.lampW', /is not a field/],
    ['a missing field of a card', changed('"sandMin":17.5,', ''), 'card.sandMin', /is missing/],
    ['a missing series', changed(AIR, '"mixC":20'), 'job.airC', /is missing/],
    ['a fill that is none', changed('"regular"', '"sand"'), 'card.fill', /not one of the choices/],
    ['a text for a number', changed('"atC":20', '"atC":"20"'), 'card.atC', /is not a number/],
    ['null for a number', changed('"atC":20', '"atC":null'), 'card.atC', /is not a number/],
    ['an infinite number', changed('"atC":20', '"atC":1e999'), 'card.atC', /is not a finite number/],
    ['an infinite point', changed(ONE_POINT, '[0,-1e999]'), 'job.airC.0.1', /is not a finite number/],
    ['a number for a series', changed(AIR, '"airC":20'), 'job.airC', /is not a list/],
    ['a flat series', changed(AIR, '"airC":[0,20]'), 'job.airC.0', /is not a list|not a tuple/],
    ['a point of one number', changed(ONE_POINT, '[0]'), 'job.airC.0', /is too short|is missing/],
    ['a point of three numbers', changed(ONE_POINT, '[0,20,1]'), 'job.airC.0', /is too long/],
    ['a huge series', changed(ONE_POINT, `${'[0,20],'.repeat(20_000)}[0,20]`), 'job.airC', /is too long/],
    ['a huge list of nothing', changed(ONE_POINT, `${'0,'.repeat(500_000)}0`), 'job.airC', /is too long/],
    ['a deep nest', changed(ONE_POINT, `${'['.repeat(50_000)}${']'.repeat(50_000)}`), 'job.airC.0', /./],
    ['a spell of two numbers', changed(AIR, `${AIR},"lampMinWPerM2":[[5,10]]`), 'job.lampMinWPerM2.0', /./],
    ['one for true', changed(AIR, `${AIR},"movingAir":1`), 'job.movingAir', /is not true or false/],
    ['a name that is none', added('"name":7'), 'name', /is not a text/],
    ['an endless name', added(`"name":"${'x'.repeat(501)}"`), 'name', /is too long/],
    ['a sample before mixing', added('"sampleAtMin":[5,-1]'), 'sampleAtMin.1', /is too small/],
    ['a sample after a week', added('"sampleAtMin":[10081]'), 'sampleAtMin.0', /is too large/],
    ['samples without end', added(`"sampleAtMin":[${'1,'.repeat(1000)}1]`), 'sampleAtMin', /is too long/],
    ['a "now" that is no number', added('"nowMin":"7"'), 'nowMin', /is not a number/],
    ['a check of no outcome', added('"checks":[{"atMin":5}]'), 'checks.0.outcome', /is missing/],
    [
      'a check of another outcome',
      added('"checks":[{"atMin":5,"outcome":"ok"}]'),
      'checks.0.outcome',
      /not one of the choices/,
    ],
    [
      'a check with more to say',
      added('"checks":[{"atMin":5,"outcome":"gums","by":"AB"}]'),
      'checks.0.by',
      /is not a field/,
    ],
  ])('is refused with path and reason when it holds %s', (_what, input, path, reason) => {
    const rejection = rejectionOf(input);
    expect(rejection.path).toBe(path);
    expect(rejection.reason).toMatch(reason);
    expect(rejection.allowed).not.toBe('');
  });

  it('names a field by its place in the file', () => {
    const rejection = { path: 'card.atC', reason: 'is wrong', allowed: 'right' };
    expect(rejectionIn('', rejection)).toEqual(rejection);
    expect(rejectionIn('scenarios.3', rejection).path).toBe('scenarios.3.card.atC');
    expect(rejectionIn('scenarios.3', { ...rejection, path: '' }).path).toBe('scenarios.3');
    const file = `{"scenarios":[${text},${changed('"atC":20', '"atC":[]')}]}`;
    expect(rejectionOf(file).path).toBe('scenarios.1.card.atC');
  });
});
