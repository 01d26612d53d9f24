// The light of a bay: a table of what is open there.
import { expect, it } from 'vitest';
import type { AlertKind, BayLight, Instant, Stage } from '../../server/contract/index.ts';
import { bayLight, type LightGround } from '../../server/domain/bayLight.ts';
import type { BatchId } from '../../server/domain/facts.ts';
import { minute } from '../support/domainFixtures.ts';

type Batch = LightGround['batches'][number];
type Line = LightGround['lines'][number];

const alert = (kind: AlertKind, withdrawnAt: Instant | null = null): Batch['alerts'][number] => ({
  id: kind,
  kind,
  movedFromAt: null,
  movedToAt: null,
  raisedAt: minute(0),
  acknowledgedAt: minute(1),
  withdrawnAt,
});
const batch = (id: string, stage: Stage, more: Partial<Batch> = {}): Batch => ({
  id: id as BatchId,
  bayId: 'bay-1',
  stage,
  alerts: [],
  ...more,
});
const line = (kind: AlertKind, batchId: string, withdrawnAt: Instant | null = null): Line => ({
  kind,
  withdrawnAt,
  subjects: [
    {
      batchId: batchId as BatchId,
      panel: null,
      sensorId: null,
      bayId: 'bay-1',
      by: null,
      sinceAt: minute(0),
    },
  ],
});

it.each<[string, Batch[], Line[], BayLight]>([
  ['nothing is open', [], [], 'off'],
  [
    'another bay has everything',
    [batch('a', 'test', { bayId: 'bay-2', alerts: [alert('tooHot')] })],
    [],
    'off',
  ],
  ['a batch is being sanded', [batch('a', 'sanding', { alerts: [alert('tooHot')] })], [], 'off'],
  ['a mix is wet', [batch('a', 'wet')], [], 'wait'],
  ['a film cures', [batch('a', 'kicked'), batch('b', 'sanding')], [], 'wait'],
  ['one of many is worth testing', [batch('a', 'kicked'), batch('b', 'test')], [], 'test'],
  [
    'one that waits is slow',
    [batch('a', 'kicked', { alerts: [alert('slowing'), alert('test')] })],
    [],
    'wait',
  ],
  [
    'one is damp, seen or not',
    [batch('a', 'test'), batch('b', 'wet', { alerts: [alert('condensation')] })],
    [],
    'stop',
  ],
  ['one was damp', [batch('b', 'wet', { alerts: [alert('condensation', minute(2))] })], [], 'wait'],
  ['one is too cold', [batch('a', 'kicked', { alerts: [alert('tooCold')] })], [], 'stop'],
  ['one gets too hot under a lamp', [batch('a', 'kicked', { alerts: [alert('tooHot')] })], [], 'stop'],
  ['a line for many speaks of one', [batch('a', 'kicked')], [line('tooCold', 'a')], 'stop'],
  ['a line for many is over', [batch('a', 'kicked')], [line('tooCold', 'a', minute(2))], 'wait'],
  ['a line for many only says that it is slow', [batch('a', 'kicked')], [line('slowing', 'a')], 'wait'],
  [
    'a line for many speaks of one that was moved away',
    [batch('a', 'kicked', { bayId: 'bay-2' })],
    [line('tooCold', 'a')],
    'off',
  ],
  ['a line speaks of a batch that is no more', [batch('a', 'kicked')], [line('tooCold', 'gone')], 'wait'],
])('when %s', (_name, batches, lines, light) => {
  expect(bayLight('bay-1', { batches, lines })).toBe(light);
});
