import { describe, expect, it } from 'vitest';
import { humidWeek } from '../../sensors-sim/scenarios/humidWeek.ts';
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

  it('takes what a diary needs', () => {
    const args = ['--diary', 'a.jsonl', '--from', '2026-01-12', '--days=40', '--timeZone', 'Europe/Berlin'];
    expect(parseArguments([...args, '--scenario', 'humid-week', '--seed', '3'])).toEqual({
      kind: 'write',
      options: {
        scenario: humidWeek,
        seed: 3,
        path: 'a.jsonl',
        timeZone: 'Europe/Berlin',
        fromAt: Date.parse('2026-01-11T23:00:00Z'),
        forDays: 40,
      },
    });
    expect(parseArguments(['--diary', 'a', '--from', '2026-01-12', '--days', '1'])).toMatchObject({
      options: { timeZone: 'UTC', seed: 7, scenario: { name: 'cold-morning' } },
    });
  });

  it.each([
    [['--diary='], '--diary needs a value'],
    [['--diary', 'a', '--days', '3'], '--diary needs --from'],
    [['--diary', 'a', '--from', '2026-01-12'], '--diary needs --days'],
    [['--diary', 'a', '--from', '2026-02-30', '--days', '3'], '--from 2026-02-30 is not a day'],
    [['--diary', 'a', '--from', '2026-01-12', '--days', '0'], '--days 0 is not a whole number'],
    [['--diary', 'a', '--from', '2026-01-12', '--days', '1.5'], '--days 1.5 is not a whole number'],
    [['--diary', 'a', '--from', '2026-01-12', '--days', '1001'], 'a whole number from 1 to 1000'],
    [['--diary', 'a', '--from', '2026-01-12', '--days', '1', '--timeZone', 'Mars/Base'], 'not a time zone'],
    [
      ['--diary', 'a', '--from', '2026-01-12', '--days', '1', '--speed', '20'],
      '--speed is for a play against',
    ],
    [['--from', '2026-01-12'], '--from goes only with --diary'],
    [['--days', '3'], '--days goes only with --diary'],
    [['--timeZone', 'UTC'], '--timeZone goes only with --diary'],
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
