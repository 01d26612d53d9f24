// What a channel is owed: a table of what it knows and how the alert stands, whom an alert is for, waits, and the one law that
// holds whatever fails: who learned of an alert that stands no more is told so, and who should know of one that stands does.
import { array, assert, constantFrom, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AlertPlace } from '../../server/contract/index.ts';
import {
  channelStateOf,
  type Delivery,
  evolveDelivery,
  isDeliveryOpen,
  isOfDelivery,
} from '../../server/domain/deliverBook.ts';
import {
  type Channel,
  isMeantFor,
  messageIdOf,
  type Owed,
  owedTo,
  retryDelayMs,
  TRIES_MAX,
} from '../../server/domain/deliverOwed.ts';
import type { Fact, FactType } from '../../server/domain/facts.ts';
import { countFor } from '../support/testSize.ts';
import { minute } from '../support/domainFixtures.ts';

const HOOK: Channel = { kind: 'webhook', id: 'webhook:a', name: 'a', sinceAt: minute(0), events: null };
const PHONE: Channel = { kind: 'push', id: 'push:b', sinceAt: minute(0), person: 'AB', screens: ['bench'] };
const HERE = { isMeant: true, nowAt: minute(60) };
const GONE = { isMeant: false, nowAt: minute(60) };
const TROUBLE = { code: 'timeout', status: null } as const;

/** Facts one after another, a minute apart. */
function fold(...parts: readonly (readonly [FactType, object])[]): Delivery {
  let delivery: Delivery | null = null;
  parts.forEach(([type, body], index) => {
    const fact = factOf(type, { alertId: 'x', ...body }, index + 1);
    if (isOfDelivery(fact)) delivery = evolveDelivery(delivery, fact);
  });
  if (delivery === null) throw new Error('nothing was raised');
  return delivery;
}

function factOf(type: FactType, body: object, sequence: number): Fact {
  const at = minute(sequence);
  return {
    type,
    version: 1,
    sequence,
    at,
    recordedAt: at,
    by: null,
    batchId: null,
    bayId: null,
    body,
  } as unknown as Fact;
}

const RAISED = ['AlertRaised', { kind: 'condensation' }] as const;
const CHANGED = ['AlertSubjectsChanged', { subjects: [] }] as const;
const SEEN = ['AlertAcknowledged', {}] as const;
const OVER = ['AlertWithdrawn', {}] as const;
const mark = (made: string, channel: Channel = HOOK) =>
  ['DeliveryMarked', { channelId: channel.id, mark: made }] as const;
const came = (message: string, factSequence: number, channel: Channel = HOOK) =>
  ['AlertDelivered', { channelId: channel.id, message, factSequence, triesCount: 1, trouble: null }] as const;
const gaveUp = (message: string, factSequence: number) =>
  [
    'AlertDelivered',
    { channelId: HOOK.id, message, factSequence, triesCount: 12, trouble: TROUBLE },
  ] as const;

describe('a webhook is owed', () => {
  it.each<[string, Delivery, string | null]>([
    ['an alert that was raised', fold(RAISED), 'raised first'],
    ['nothing of one that was over before its first try', fold(RAISED, OVER), null],
    ['an alert whose first try nobody knows the end of', fold(RAISED, mark('begun')), 'raised'],
    ['the end of one that may have come', fold(RAISED, mark('begun'), OVER), 'withdrawn'],
    ['nothing of one that came', fold(RAISED, mark('begun'), came('raised', 1)), null],
    ['what changed since it came', fold(RAISED, mark('begun'), came('raised', 1), CHANGED), 'changed'],
    ['that somebody has seen it', fold(RAISED, mark('begun'), came('raised', 1), SEEN), 'changed'],
    ['the end of one that came', fold(RAISED, mark('begun'), came('raised', 1), OVER), 'withdrawn'],
    [
      'nothing after its end',
      fold(RAISED, mark('begun'), came('raised', 1), OVER, came('withdrawn', 4)),
      null,
    ],
    ['nothing that was given up', fold(RAISED, mark('begun'), gaveUp('raised', 1)), null],
    [
      'what was given up and is wanted again',
      fold(RAISED, mark('begun'), gaveUp('raised', 1), mark('again')),
      'raised',
    ],
    [
      'the end of what was given up: it may have come',
      fold(RAISED, mark('begun'), gaveUp('raised', 1), OVER),
      'withdrawn',
    ],
    [
      'no change that was given up',
      fold(RAISED, mark('begun'), came('raised', 1), CHANGED, gaveUp('changed', 4)),
      null,
    ],
    [
      'a change after the one that was given up',
      fold(RAISED, mark('begun'), came('raised', 1), CHANGED, gaveUp('changed', 4), CHANGED),
      'changed',
    ],
    [
      'nothing once it was let be',
      fold(RAISED, mark('begun'), gaveUp('raised', 1), mark('forgotten'), OVER),
      null,
    ],
  ])('%s', (_name, delivery, expected) => {
    const owed = owedTo(HOOK, delivery, HERE);
    expect(owed === null ? null : `${owed.message}${owed.markBefore === 'begun' ? ' first' : ''}`).toBe(
      expected,
    );
  });

  it('nothing that was raised before it was there, but all of what it began with', () => {
    const late = { ...HOOK, sinceAt: minute(5) };
    expect(owedTo(late, fold(RAISED), HERE)).toBeNull();
    expect(owedTo(late, fold(RAISED, mark('begun')), HERE)?.message).toBe('raised');
  });

  it('one identity each, and the newest fact with it', () => {
    const owed = owedTo(HOOK, fold(RAISED, mark('begun'), came('raised', 1), CHANGED), HERE) as Owed;
    expect(owed).toMatchObject({ alertId: 'x', channelId: HOOK.id, factSequence: 4, dueAt: minute(4) });
    expect(messageIdOf(owed)).toBe('x.changed.4');
    expect(messageIdOf({ ...owed, message: 'raised' })).toBe('x.raised');
  });
});

describe('a phone is owed', () => {
  it('the end of what somebody has seen', () => {
    const told = [RAISED, mark('begun', PHONE), came('raised', 1, PHONE)] as const;
    expect(owedTo(PHONE, fold(...told, SEEN), HERE)?.message).toBe('withdrawn');
    expect(owedTo(PHONE, fold(RAISED, SEEN), HERE)).toBeNull();
  });

  it('the end of what is not its person’s any more, and the alert again when it is', () => {
    const left = [RAISED, mark('begun', PHONE), came('raised', 1, PHONE), CHANGED] as const;
    expect(owedTo(PHONE, fold(...left), GONE)?.message).toBe('withdrawn');
    const back = fold(...left, came('withdrawn', 4, PHONE), CHANGED);
    expect(owedTo(PHONE, back, GONE)).toBeNull();
    const again = owedTo(PHONE, back, HERE) as Owed;
    expect(again).toMatchObject({ message: 'raised', markBefore: 'begun', roundIndex: 1 });
    expect(messageIdOf(again)).toBe('x.raised.1');
  });

  it('the alert again when nobody knows whether its end came', () => {
    const told = [RAISED, mark('begun', PHONE), came('raised', 1, PHONE)] as const;
    expect(owedTo(PHONE, fold(...told), GONE)).toMatchObject({ message: 'withdrawn', markBefore: 'ending' });
    const ending = fold(...told, mark('ending', PHONE));
    expect(owedTo(PHONE, ending, GONE)).toMatchObject({ message: 'withdrawn', markBefore: null });
    expect(owedTo(PHONE, ending, HERE)).toMatchObject({ message: 'raised', markBefore: 'begun' });
  });

  it('of a message that is tried again only what stood in its first try, and then the change', () => {
    const begun = [RAISED, mark('begun', PHONE), CHANGED] as const;
    expect(owedTo(PHONE, fold(...begun), HERE)).toMatchObject({ message: 'raised', factSequence: 1 });
    expect(owedTo(PHONE, fold(...begun, came('raised', 1, PHONE)), HERE)?.message).toBe('changed');
  });

  it('what is raised after it came, also where its own time lies ahead of a clock that was put right', () => {
    const ahead = { ...PHONE, sinceAt: minute(500) };
    expect(owedTo(ahead, fold(RAISED), HERE)?.message).toBe('raised');
    expect(owedTo(ahead, fold(RAISED), { ...HERE, nowAt: minute(501) })).toBeNull();
  });
});

describe('an alert is for', () => {
  const bench = (...people: string[]) => ({ kind: 'test', to: ['bench'] as AlertPlace[], people }) as const;
  it.each<[string, Channel, Parameters<typeof isMeantFor>[1], boolean]>([
    ['any webhook', HOOK, bench('CD'), true],
    ['a webhook of its kind', { ...HOOK, events: ['test'] }, bench(), true],
    ['no webhook of other kinds', { ...HOOK, events: ['tooCold'] }, bench(), false],
    ['the phone of its person', PHONE, bench('CD', 'AB'), true],
    ['every phone when it is nobody’s', PHONE, bench(), true],
    ['every phone of nobody', { ...PHONE, person: null }, bench('CD'), true],
    ['no phone of somebody else', PHONE, bench('CD'), false],
    [
      'a phone of Floor',
      { ...PHONE, screens: ['floor'] },
      { kind: 'waiting', to: ['floor'], people: ['CD'] },
      true,
    ],
    ['no phone of Floor where it is Bench’s', { ...PHONE, screens: ['floor'] }, bench('CD'), false],
    [
      'a phone of Floor that is its person’s, when it calls',
      { ...PHONE, screens: ['floor'] },
      bench('AB'),
      true,
    ],
    [
      'no phone of Floor of its person, when it only warns',
      { ...PHONE, screens: ['floor'] },
      { kind: 'tooHot', to: ['bench'], people: ['AB'] },
      false,
    ],
    ['no phone of Floor of nobody', { ...PHONE, person: null, screens: ['floor'] }, bench('AB'), false],
  ])('%s', (_name, channel, audience, isMeant) => {
    expect(isMeantFor(channel, audience)).toBe(isMeant);
  });
});

describe('what was told', () => {
  it('is nothing where the alert was raised before there were deliveries', () => {
    const fact = factOf('AlertWithdrawn', { alertId: 'x' }, 1);
    expect(isOfDelivery(fact) && evolveDelivery(null, fact)).toBeNull();
  });

  it('is closed once the alert is over and nobody is left to be told', () => {
    expect(isDeliveryOpen(fold(RAISED))).toBe(true);
    expect(isDeliveryOpen(fold(RAISED, OVER))).toBe(false);
    expect(isDeliveryOpen(fold(RAISED, mark('begun'), OVER))).toBe(true);
    expect(isDeliveryOpen(fold(RAISED, mark('begun'), came('raised', 1), OVER, came('withdrawn', 4)))).toBe(
      false,
    );
    expect(isDeliveryOpen(fold(RAISED, mark('forgotten'), OVER))).toBe(false);
  });

  it('of a channel that came with a message before any mark is what the message said', () => {
    expect(channelStateOf(fold(RAISED, came('raised', 1)), HOOK.id)).toMatchObject({ knows: 'standing' });
    expect(channelStateOf(fold(RAISED), 'constructor')).toBeNull();
  });
});

describe('the wait after a vain try', () => {
  it('doubles from two seconds to ten minutes, half of it by chance', () => {
    const waits = (chance: number): number[] =>
      Array.from(
        { length: TRIES_MAX - 1 },
        (_, index) => retryDelayMs({ triesCount: index + 1, chanceShare: chance }) / 1000,
      );
    expect(waits(1)).toEqual([2, 4, 8, 16, 32, 64, 128, 256, 512, 600, 600]);
    expect(waits(0)).toEqual(waits(1).map((waitS) => waitS / 2));
  });
});

describe('whatever fails', () => {
  type Step = 'change' | 'see' | 'over' | 'leave' | 'join' | 'came' | 'lost' | 'refused' | 'restart';
  const steps: readonly Step[] = [
    'change',
    'see',
    'over',
    'leave',
    'join',
    'came',
    'lost',
    'refused',
    'restart',
  ];

  /** A receiver beside the rule, which drops what it has had before; what it believes in the end is what counts. */
  function play(channel: Channel, script: readonly Step[]): void {
    let sequence = 1;
    let delivery = fold(RAISED);
    let isMeant = true;
    let isOver = false;
    const had = new Set<string>();
    let believes: { isStanding: boolean; contentSequence: number } | null = null;
    const raisedWhenOver: string[] = [];
    const add = (type: FactType, body: object): void => {
      sequence += 1;
      const fact = factOf(type, { alertId: 'x', ...body }, sequence);
      if (isOfDelivery(fact)) delivery = evolveDelivery(delivery, fact) as Delivery;
    };
    const receive = (owed: Owed): void => {
      const id = messageIdOf(owed);
      if (isOver && owed.message !== 'withdrawn') raisedWhenOver.push(id);
      if (had.has(id)) return;
      had.add(id);
      believes = { isStanding: owed.message !== 'withdrawn', contentSequence: delivery.contentSequence };
    };
    const send = (end: 'came' | 'lost' | 'refused'): void => {
      const owed = owedTo(channel, delivery, { isMeant, nowAt: minute(sequence) });
      if (owed === null) return;
      if (owed.markBefore !== null) add('DeliveryMarked', { channelId: channel.id, mark: owed.markBefore });
      if (end !== 'refused') receive(owed);
      const { message, factSequence } = owed;
      const body = { channelId: channel.id, message, factSequence, triesCount: 1, trouble: null };
      if (end === 'came') add('AlertDelivered', body);
    };
    for (const step of script) {
      if (step === 'change' && !isOver) add('AlertSubjectsChanged', { subjects: [] });
      if (step === 'see' && !isOver) add('AlertAcknowledged', {});
      if (step === 'over' && !isOver) {
        isOver = true;
        add('AlertWithdrawn', {});
      }
      if (step === 'leave') isMeant = false;
      if (step === 'join') isMeant = true;
      if (step === 'came' || step === 'lost' || step === 'refused') send(step);
    }
    // Nothing fails any more.
    for (let tryIndex = 0; tryIndex < 3; tryIndex += 1) send('came');
    expect(owedTo(channel, delivery, { isMeant, nowAt: minute(sequence) })).toBeNull();
    const isStanding = isMeant && !isOver && !(channel.kind === 'push' && delivery.isSeen);
    if (isStanding) expect(believes).toEqual({ isStanding, contentSequence: delivery.contentSequence });
    else expect([undefined, false]).toContain((believes as { isStanding: boolean } | null)?.isStanding);
    // What was over is never raised.
    expect(raisedWhenOver).toEqual([]);
  }

  it.each([HOOK, PHONE])('a $kind that can be reached at last knows how things stand', (channel) => {
    const script = array(constantFrom(...steps), { maxLength: 14 });
    assert(
      property(script, (parts) => play(channel, parts)),
      { seed: 8, numRuns: countFor({ usual: 1000, nightly: 50_000 }) },
    );
  });
});
