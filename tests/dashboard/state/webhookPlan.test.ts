// The form of a program that is told of alerts: its choices of kinds become lists on the wire, and back.
import { afterEach, describe, expect, it } from 'vitest';
import { $setupForms, bodyOf, typeInto, valueOf } from '../../../dashboard/state/setupForm.ts';
import { eventsChoiceOf, planWebhook } from '../../../dashboard/state/setupPlans.ts';
import {
  ALERT_KINDS,
  parseWith,
  putSettingsBody,
  type SettingsWire,
} from '../../../server/contract/index.ts';

const DESK = { id: 'desk', name: 'Desk', url: 'http://a.example/', events: null };
const settings = { version: 3, webhooks: [DESK] } as unknown as SettingsWire;

afterEach(() => {
  $setupForms.value = {};
});

describe('a program', () => {
  it.each<[string, SettingsWire['webhooks'][number]['events']]>([
    ['all', null],
    ['calls', ['test', 'spreadBy']],
    ['warnings', ALERT_KINDS.filter((kind) => kind !== 'test' && kind !== 'spreadBy')],
    ['own', ['test', 'tooCold']],
  ])('that is told of %s is sent as the list that it is', (choice, events) => {
    expect(eventsChoiceOf(events)).toBe(choice);
    const plan = planWebhook(settings, { ...DESK, events });
    const body = bodyOf(plan, plan.held, ['webhooks.0.events']);
    const parsed = parseWith(putSettingsBody, body);
    expect(parsed.kind).toBe('parsed');
    const sent = (body['webhooks'] as { id: string; events: readonly string[] | null }[])[0];
    expect(sent?.id).toBe('desk');
    expect(sent?.events?.toSorted() ?? null).toEqual(events?.toSorted() ?? null);
  });

  it('that is new gets an id of its name that is free, and every field', () => {
    typeInto(planWebhook(settings, null), 'webhooks.0.name', 'Desk');
    typeInto(planWebhook(settings, null), 'webhooks.0.url', 'https://b.example/in');
    const plan = planWebhook(settings, null);
    const values = Object.fromEntries(Object.keys(plan.held).map((path) => [path, valueOf(plan, path)]));
    expect(bodyOf(plan, values, Object.keys(plan.held))).toEqual({
      webhooks: [{ id: 'desk-2', name: 'Desk', url: 'https://b.example/in', events: null }],
    });
  });
});
