import { describe, expect, it } from 'vitest';
import { parseArguments } from '../../sensors-sim/parseArguments.ts';

describe('the command line', () => {
  it('needs nothing to be said', () => {
    expect(parseArguments([])).toMatchObject({
      kind: 'run',
      options: {
        scenario: { name: 'cold-morning' },
        httpUrl: 'http://127.0.0.1:4180',
        mqttUrl: 'mqtt://127.0.0.1:1883',
        topicPrefix: 'sandby/v1',
        seed: 7,
        speedRate: null,
      },
    });
  });

  it('takes every flag, with a space or an equals sign', () => {
    const args = ['--http', 'http://localhost:5000/', '--mqtt=mqtt://localhost:5001', '--prefix', 'a/b'];
    expect(
      parseArguments([...args, '--seed=-3', '--speed', '20', '--scenario', 'cold-morning']),
    ).toMatchObject({
      options: {
        httpUrl: 'http://localhost:5000',
        mqttUrl: 'mqtt://localhost:5001',
        topicPrefix: 'a/b',
        seed: -3,
        speedRate: 20,
      },
    });
  });

  it.each([
    [['--scenery', 'x'], 'unknown flag --scenery'],
    [['cold-morning'], 'unknown flag cold-morning'],
    [['--scenario', 'warm-evening'], 'unknown scenario warm-evening; there are cold-morning'],
    [['--scenario'], '--scenario needs a value'],
    [['--http', '--seed'], '--http needs a value'],
    [['--http', 'localhost'], '--http localhost is not an http:// address'],
    [['--http', 'mqtt://localhost'], '--http mqtt://localhost is not an http:// address'],
    [['--mqtt', 'http://localhost'], '--mqtt http://localhost is not an mqtt:// address'],
    [['--prefix', 'a/#'], '--prefix a/# is not a topic'],
    [['--prefix', '/a'], '--prefix /a is not a topic'],
    [['--seed', 'seven'], '--seed seven is not a whole number'],
    [['--speed', '0'], '--speed 0 is not a positive number'],
    [['--speed', 'fast'], '--speed fast is not a positive number'],
  ])('refuses %j in one line', (args, says) => {
    const parsed = parseArguments(args);
    const line = parsed.kind === 'wrong' ? parsed.line : '';
    expect(line).toContain(says);
    expect(line).not.toContain('\n');
  });
});
