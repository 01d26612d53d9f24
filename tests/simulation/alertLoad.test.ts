// The alert load of simulated normal days: whole shops in closed loop, several people with overlapping batches, every alert
// counted for each of those whom it is for.
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { afterAll, describe, expect, it } from 'vitest';
import { AUDIENCES } from '../../server/domain/alertRules.ts';
import type { Fact, FactOf } from '../../server/domain/facts.ts';

/** REFERENCES AL-1: about 6 an hour a person are fine; the design takes it as the most there may be. */
const LOAD_MAX_COUNT = 6;
/** REFERENCES AL-2: more than 10 in 10 min are a flood. */
const FLOOD_COUNT = 10;
const SEED = 3;
const DAYS_COUNT = 3;
const PLAY_MS = 300_000;
const MS_PER_MIN = 60_000;
/** Heating that is low at night, a door in the wind, films under lamps; three people each. */
const SHOPS = ['night-setback', 'windy-door', 'lamp-work'] as const;
const lines: string[] = [];

afterAll(() => console.log(lines.join('\n')));

type Told = FactOf<'AlertRaised'> | FactOf<'BatchStarted'>;

async function playDays(name: string): Promise<readonly Told[]> {
  const flags = [
    '--import',
    'tsx',
    'tests/simulation/playProcess.ts',
    name,
    String(SEED),
    String(DAYS_COUNT),
  ];
  const { stdout } = await promisify(execFile)(process.execPath, flags, { maxBuffer: 64 * 2 ** 20 });
  const { told, refusals } = JSON.parse(stdout) as { told: Told[]; refusals: string[] };
  expect(refusals).toEqual([]);
  return told;
}

/** When each person was told something: the technicians at their Benches, whoever looks at Floor, whoever looks at Setup. */
function toldBy(facts: readonly Told[]): Map<string, number[]> {
  const owners = new Map(
    facts.flatMap((fact) => (fact.type === 'BatchStarted' ? [[fact.batchId, fact.by] as const] : [])),
  );
  const told = new Map<string, number[]>();
  for (const fact of facts) {
    if (fact.type !== 'AlertRaised') continue;
    const { kind, subjects } = fact.body;
    const benches = subjects?.map(({ by }) => by) ?? [owners.get(fact.batchId) ?? null];
    const people = AUDIENCES[kind].flatMap((place) => (place === 'bench' ? benches : [place]));
    for (const person of new Set(people.map(String)))
      told.set(person, [...(told.get(person) ?? []), fact.at]);
  }
  return told;
}

/** The most that fell within so many minutes of each other. */
function worst(times: readonly number[], spanMin: number): number {
  return Math.max(
    ...times.map((fromAt) => times.filter((at) => at >= fromAt && at < fromAt + spanMin * MS_PER_MIN).length),
  );
}

/** How many batches stood open between their mixing and their test at once, at the most. */
function overlap(facts: readonly Told[]): number {
  const mixed = facts.filter(({ type }) => type === 'BatchStarted').map(({ at }) => at);
  return worst(mixed, 20);
}

describe('a normal day', () => {
  it.each(SHOPS)(
    'of %s has at most 6 alerts an hour a person, whichever hour',
    { timeout: PLAY_MS },
    async (name) => {
      const facts = await playDays(name);
      expect(facts.filter(({ type }) => type === 'BatchStarted').length).toBeGreaterThan(30);
      // Several people, and batches beside each other, or the load would say nothing.
      const told = toldBy(facts);
      expect(told.size).toBeGreaterThanOrEqual(4);
      expect(overlap(facts)).toBeGreaterThanOrEqual(3);
      for (const [person, times] of told) {
        const [hourCount, tenMinCount] = [worst(times, 60), worst(times, 10)];
        lines.push(`${name}: ${person} ${times.length} in all, ${hourCount} in the worst hour`);
        expect(hourCount).toBeLessThanOrEqual(LOAD_MAX_COUNT);
        expect(tenMinCount).toBeLessThan(FLOOD_COUNT);
      }
      const raised = facts.filter((fact: Fact) => fact.type === 'AlertRaised');
      // Every batch gets its call: a load is not made small by silence.
      expect(raised.filter(({ body }) => body.kind === 'test').length).toBeGreaterThan(30);
    },
  );
});
