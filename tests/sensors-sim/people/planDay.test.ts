import { describe, expect, it } from 'vitest';
import { startBatchBody } from '../../../server/contract/index.ts';
import { localDayOf } from '../../../sensors-sim/localDay.ts';
import { planDay } from '../../../sensors-sim/people/planDay.ts';
import { scenarios } from '../../../sensors-sim/scenarios/scenarioByName.ts';
import { at } from '../playDay.ts';

const day = localDayOf(at('2026-01-12T12:00:00Z'), 'UTC');

describe.each(scenarios.map((scenario) => [scenario.name, scenario] as const))(
  'the plan of %s',
  (_, scenario) => {
    const plan = planDay(scenario, { seed: 7, day });

    it('is the same for the same seed and date, and another for another date', () => {
      expect(planDay(scenario, { seed: 7, day })).toEqual(plan);
      const tomorrow = localDayOf(at('2026-01-13T12:00:00Z'), 'UTC');
      expect(planDay(scenario, { seed: 7, day: tomorrow }).jobs.at(-1)?.car).not.toEqual(
        plan.jobs.at(-1)?.car,
      );
    });

    it('is empty on a day off', () => {
      const hours = { ...scenario.hours, daysOff: ['Mon'] as const };
      const monday = planDay({ ...scenario, hours }, { seed: 7, day });
      expect(monday).toMatchObject({ jobs: [], doors: [], isOpen: false });
      expect(plan.isOpen).toBe(true);
    });

    it('gives every car a repair order of its own that names the day', () => {
      const keys = plan.jobs.map(({ key }) => key);
      expect(new Set(keys).size).toBe(keys.length);
      expect(keys.every((key) => key.includes('0112'))).toBe(true);
    });

    it('asks only for bays, people and products that the scenario has', () => {
      const bayIds = scenario.rooms.map(({ bayId }) => bayId);
      const cardIds = scenario.products.map(({ cardId }) => cardId);
      const initials = scenario.crew.map((person) => person.initials);
      for (const { car } of plan.jobs) {
        expect(bayIds).toContain(car.bayId);
        expect(initials).toContain(car.initials);
        expect(car.coats.every(({ cardId }) => cardIds.includes(cardId))).toBe(true);
        if (car.move !== null) expect(bayIds).toContain(car.move.bayId);
      }
    });

    it('mixes what the server’s contract takes', () => {
      for (const { car, key } of plan.jobs) {
        for (const { cardId, thicknessMm, underlayMm } of car.coats) {
          const { panel, substrate, bayId } = car;
          const body = { cardId, panel, repairOrder: key, bayId, thicknessMm, substrate, underlayMm };
          expect(startBatchBody.safeParse(body).success).toBe(true);
        }
      }
    });

    it('opens the door for every car that rolls in', () => {
      for (const { car } of plan.jobs.filter(({ rolledInAt }) => rolledInAt !== null)) {
        const open = plan.doors.some(
          ({ bayId, fromMin, untilMin }) =>
            bayId === car.bayId && fromMin <= (car.rolledInMin ?? -1) && untilMin > (car.rolledInMin ?? -1),
        );
        expect(open).toBe(true);
      }
    });
  },
);
