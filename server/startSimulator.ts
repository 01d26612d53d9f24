// The simulated shop runs beside the server as a process of its own, through the same doors as everybody else.
import { type ChildProcess, fork } from 'node:child_process';
import { join } from 'node:path';
import type { Log } from './application/ports/live.ts';
import type { Settings } from './adapters/config/readConfig.ts';
import { findProgramFolder } from './programFiles.ts';

/** Starts the simulator that the config names; null when it names none. */
export function startSimulator(
  { config }: Settings,
  { address, mqttPort, log }: { address: string; mqttPort: number; log: Log },
): ChildProcess | null {
  if (config.simulator === undefined) return null;
  const { scenario, seed } = config.simulator;
  const mqttUrl = `mqtt://${config.mqtt.host.includes(':') ? `[${config.mqtt.host}]` : config.mqtt.host}:${mqttPort}`;
  const flags = [
    '--scenario',
    scenario,
    '--http',
    address,
    '--mqtt',
    mqttUrl,
    '--prefix',
    config.mqtt.topicPrefix,
    '--seed',
    `${seed}`,
  ];
  const child = fork(join(findProgramFolder(), 'dist', 'sensors-sim', 'main.js'), flags, {
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  child.on('exit', (code) => log.info('simulator.ended', { code }));
  return child;
}
