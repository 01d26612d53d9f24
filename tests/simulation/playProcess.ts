// Plays one shop in a process of its own and prints its batches and alerts: the tests' coverage would make the days several
// times as slow.
import { scenarioByName } from '../../sensors-sim/scenarios/scenarioByName.ts';
import { playShop } from './playShop.ts';

const [name = '', seed = '', days = '', learning = ''] = process.argv.slice(2);
const scenario = scenarioByName(name);
if (scenario === null) throw new Error(`no scenario ${name}`);
const { batches, refusals, facts } = await playShop({
  scenario,
  seed: Number(seed),
  forDays: Number(days),
  isLearning: learning !== 'off',
});
const told = facts.filter(({ type }) => type === 'AlertRaised' || type === 'BatchStarted');
process.stdout.write(JSON.stringify({ batches, refusals, told }));
