// The README's own commands, run as they stand there against the built program; only the ports are replaced by free ones.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { getJson } from '../support/http.ts';
import { runServer, type RunningServer } from '../support/runServer.ts';

let server: RunningServer;

beforeAll(async () => {
  server = await runServer();
});
afterAll(async () => {
  await server.stop();
});

/** The lines of all shell blocks that begin with a program. */
function commandsOf(program: string): string[] {
  const blocks = [...readFileSync('README.md', 'utf8').matchAll(/```sh\n([\s\S]*?)```/g)].map(
    (match) => match[1] ?? '',
  );
  return blocks
    .flatMap((block) => block.split('\n').map((line) => line.trim()))
    .filter((line) => line.startsWith(program));
}

function run(command: string): string {
  const line = command
    .replace('http://127.0.0.1:4180', server.address)
    .replace('-h 127.0.0.1', `-h 127.0.0.1 -p ${server.mqttPort}`);
  return execFileSync('sh', ['-c', line], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

describe('the README', () => {
  it('publishes a reading by MQTT that the bay then shows', async () => {
    const [command] = commandsOf('mosquitto_pub');
    run(String(command));
    const { body } = await getJson(server.address, '/bays');
    expect((body['bays'] as unknown[])[0]).toMatchObject({
      id: 'bay-1',
      airTemperatureC: 18.5,
      relativeHumidityPct: 55,
    });
  });

  it('sends a reading by HTTP that is stored', () => {
    const [command] = commandsOf('curl');
    expect(JSON.parse(run(String(command)))).toEqual({ recorded: 1, repeated: 0, setAside: [] });
  });

  it('names only scripts that package.json has', () => {
    const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as {
      scripts: Record<string, string>;
    };
    const named = [...readFileSync('README.md', 'utf8').matchAll(/npm run (?:--silent )?([a-z]+)/g)].map(
      (match) => match[1] ?? '',
    );
    expect(named.length).toBeGreaterThan(1);
    expect(named.filter((name) => scripts[name] === undefined)).toEqual([]);
  });
});
