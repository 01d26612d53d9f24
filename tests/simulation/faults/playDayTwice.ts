// Plays a scenario's day twice in a process of its own and prints what differs.
import { scenarioByName } from '../../../sensors-sim/scenarios/scenarioByName.ts';
import { differences } from './compareDays.ts';
import { linesOf, playLines } from './playTwice.ts';

const [name = '', seed = '', fromMin = '', untilMin = ''] = process.argv.slice(2);
const scenario = scenarioByName(name);
if (scenario === null) throw new Error(`no scenario ${name}`);
const lines = linesOf({ scenario, seed: Number(seed), fromMin: Number(fromMin), untilMin: Number(untilMin) });
const sensorIds = scenario.sensors.map(({ sensorId }) => sensorId);
const plain = await playLines(lines, { faultSeed: null, sensorIds });
const faulty = await playLines(lines, { faultSeed: Number(seed), sensorIds });
process.stdout.write(
  JSON.stringify({
    differences: differences(plain, faulty),
    lineCount: lines.length,
    batchCount: plain.states.length,
    callCount: plain.states.flatMap(({ alerts }) => alerts).length,
    failureCount: faulty.failureCount,
    crashCount: faulty.crashCount,
  }),
);
