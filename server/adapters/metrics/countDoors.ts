// The same doors and ledger, with what goes through them counted: the middle knows nothing of it.
import type { Counters } from '../../application/ports/counters.ts';
import type { Answer, Doors } from '../../application/ports/doors.ts';
import type { Ledger } from '../../application/ports/ledger.ts';
import type { SetupAnswer } from '../../application/ports/setupDoors.ts';

/** Doors as one kind of adapter uses them; what they answer stays what it is. */
export function countDoors(doors: Doors, { counters, door }: { counters: Counters; door: string }): Doors {
  const acted = async (type: string, answer: Promise<Answer>): Promise<Answer> =>
    counted(counters, type, answer, outcomeOf);
  const set = async <Body>(type: string, answer: Promise<SetupAnswer<Body>>): Promise<SetupAnswer<Body>> =>
    counted(counters, type, answer, ({ kind }) => kind);
  return {
    ...doors,
    recordReading: async (readings) => {
      const begunMs = performance.now();
      const answer = await doors.recordReading(readings);
      counters.observe('sandby_reading_duration_seconds', (performance.now() - begunMs) / 1000);
      const add = (outcome: string, count: number): void => {
        if (count > 0) counters.add('sandby_readings_total', { door, outcome }, count);
      };
      add('recorded', answer.recorded);
      add('repeated', answer.repeated);
      for (const { reason } of answer.setAside)
        counters.add('sandby_readings_set_aside_total', { door, reason });
      return answer;
    },
    startBatch: (ask) => acted('startBatch', doors.startBatch(ask)),
    handleCommand: (batchId, ask) => acted(ask.body.type, doors.handleCommand(batchId, ask)),
    acknowledgeAlert: (alertId, ask) => acted('acknowledgeAlert', doors.acknowledgeAlert(alertId, ask)),
    putSettings: (ask) => set('putSettings', doors.putSettings(ask)),
    putCard: (cardId, ask) => set('putCard', doors.putCard(cardId, ask)),
    putSensor: (sensorId, ask) => set('putSensor', doors.putSensor(sensorId, ask)),
  };
}

/** A ledger whose facts are counted when they are stored. */
export function countLedger(ledger: Ledger, counters: Counters): Ledger {
  return {
    ...ledger,
    append: async (entry) => {
      const appended = await ledger.append(entry);
      if (appended.kind === 'appended')
        for (const { type } of entry.facts) counters.add('sandby_facts_total', { type });
      return appended;
    },
  };
}

async function counted<Given extends Answer | SetupAnswer<unknown>>(
  counters: Counters,
  type: string,
  answer: Promise<Given>,
  nameOf: (given: Given) => string,
): Promise<Given> {
  try {
    const given = await answer;
    counters.add('sandby_commands_total', { type, outcome: nameOf(given) });
    if (given.kind === 'refused') counters.add('sandby_refusals_total', { code: given.refusal.code });
    return given;
  } catch (error) {
    counters.add('sandby_commands_total', { type, outcome: 'failed' });
    throw error;
  }
}

function outcomeOf(answer: Answer): string {
  if (answer.kind === 'done' || answer.kind === 'seen') return answer.isRepeat ? 'repeated' : 'done';
  return answer.kind;
}
