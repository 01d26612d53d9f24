// What people do on Setup: type, save, put back, settle who was first, hang a sensor, make a copy.
import { batch } from '@preact/signals';
import type { CardSetupWire, SensorWire, SettingsWire, WebhookWire } from '../../server/contract/index.ts';
import type { Answer } from '../feed/http.ts';
import { callAfter, followSetup, putSetup, readAll, readCardPreview } from '../feed/setup.ts';
import { downloadCopy } from '../feed/setupCopy.ts';
import { readSnapshot } from '../feed/snapshot.ts';
import { isLoneTap } from '../feed/tapGuard.ts';
import { $device } from '../state/device.ts';
import { setEditor, takeCard, takeSensor, takeSettings } from '../state/setup.ts';
import type { CardPreviewed } from '../state/setupCard.ts';
import {
  advanceForms,
  bodyOf,
  changedPaths,
  changeForm,
  dropForm,
  type FormPlan,
  formOf,
  type FormValues,
  mistakesIn,
  type SetupAsk,
  type SetupForm,
  type SetupUndo,
  typeInto,
} from '../state/setupForm.ts';
import { planPerson, planSensor, planWebhook } from '../state/setupPlans.ts';
import type { FieldError } from '../state/sources.ts';

/** As long as a toast stays. */
const UNDO_MS = 10_000;
const CONFLICT_STATUS = 409;

/** Keeps Setup fresh until the returned function is called. */
export function keepSetup(): () => void {
  return followSetup();
}

/** Notes what is typed. */
export function typeOnForm(plan: FormPlan, path: string, value: string | boolean): void {
  typeInto(plan, path, value);
}

export interface SaveHow {
  /** New entries are sent whole. */
  readonly isNew: boolean;
  /** What the form itself has found. */
  readonly mistakes: readonly FieldError[];
}

/** Saves what differs; true when it is stored. */
export async function saveForm(
  plan: FormPlan,
  { isNew, mistakes }: SaveHow = { isNew: false, mistakes: [] },
): Promise<boolean> {
  const form = formOf(plan);
  if (form.isSaving) return false;
  const paths = isNew ? Object.keys(plan.held) : changedPaths(plan);
  if (paths.length === 0) {
    changeForm(plan, { said: 'nothing' });
    return false;
  }
  const errors = [...mistakesIn(plan, [...new Set([...paths, ...plan.always])]), ...mistakes];
  if (errors.length > 0) {
    changeForm(plan, { errors, said: 'lookAgain', conflict: null });
    return false;
  }
  const values: FormValues = { ...plan.held, ...form.typed };
  return send(plan, {
    body: bodyOf(plan, values, paths),
    undoBody: isNew ? null : bodyOf(plan, plan.held, paths),
    expectedVersion: form.basedOnVersion,
    typed: form.typed,
  });
}

/** Saves over what others have changed, now that it was read. */
export async function saveMine(plan: FormPlan): Promise<boolean> {
  const { conflict } = formOf(plan);
  if (conflict === null) return false;
  const { version, mine } = conflict;
  if (changedPaths(plan).length === 0) return send(plan, { ...mine, expectedVersion: version });
  changeForm(plan, { basedOnVersion: version, conflict: null });
  return saveForm(plan);
}

/** Leaves what others have put, and forgets what was typed. */
export function takeTheirs(plan: FormPlan): void {
  dropForm(plan.id);
  void readAll();
}

/** Forgets what was typed and closes the form where it can be closed. */
export function leaveForm(plan: FormPlan): void {
  dropForm(plan.id);
  setEditor(plan.id, false);
}

/** Opens or closes a list entry's form; what was typed in it stays. */
export function toggleEditor(id: string, isOpen: boolean): void {
  setEditor(id, isOpen);
}

/** Puts the former values back. */
export async function undoSave(plan: FormPlan, undo: SetupUndo): Promise<void> {
  changeForm(plan, { undo: null });
  await send(plan, { body: undo.body, expectedVersion: undo.version, undoBody: null, said: 'putBack' });
}

/** Says by one tap where a sensor hangs; null takes it down. */
export function hangSensor(sensor: SensorWire, bayId: string | null): void {
  if (!isLoneTap()) return;
  const { airTemperatureOffsetK, relativeHumidityOffsetPct } = sensor;
  const undoBody =
    sensor.bayId === null
      ? { bayId: null }
      : { bayId: sensor.bayId, airTemperatureOffsetK, relativeHumidityOffsetPct };
  const plan = planSensor(sensor);
  if (!formOf(plan).isSaving) {
    void send(plan, { body: { bayId }, expectedVersion: sensor.version, undoBody });
  }
}

/** Retires a person or brings one back. */
export function setPersonActive(
  settings: SettingsWire,
  person: SettingsWire['people'][number],
  isActive: boolean,
): void {
  if (!isLoneTap()) return;
  const plan = planPerson(settings, person);
  const bodyWith = (active: boolean) => ({ people: [{ initials: person.initials, active }] });
  if (!formOf(plan).isSaving) {
    void send(plan, {
      body: bodyWith(isActive),
      expectedVersion: settings.version,
      undoBody: bodyWith(person.active),
    });
  }
}

/** Takes out a program that is told of alerts; the way back stands where a new one is added. */
export function removeWebhook(settings: SettingsWire, webhook: WebhookWire): void {
  if (!isLoneTap()) return;
  const plan = planWebhook(settings, null);
  const { id, name, url, events } = webhook;
  if (!formOf(plan).isSaving) {
    void send(plan, {
      body: { webhooks: [{ id, removed: true }] },
      expectedVersion: settings.version,
      undoBody: { webhooks: [{ id, name, url, events }] },
    });
  }
}

/** What a card would mean; nothing is stored. */
export function previewCard(
  body: Readonly<Record<string, unknown>>,
  signal: AbortSignal,
): Promise<CardPreviewed | null> {
  return readCardPreview(body, signal);
}

/** Makes a copy of everything and hands it to the browser. */
export function saveCopy(): void {
  void downloadCopy();
}

interface Sending extends SetupAsk {
  readonly expectedVersion: number;
  /** What of the form is stored with it: what is typed meanwhile stays. */
  readonly typed?: FormValues;
  readonly said?: 'saved' | 'putBack';
}

async function send(plan: FormPlan, sending: Sending): Promise<boolean> {
  const { person } = $device.peek();
  const { body, expectedVersion } = sending;
  changeForm(plan, { isSaving: true, errors: [], said: null, conflict: null, undo: null });
  const by = person === null ? {} : { by: person };
  const answer = await putSetup(plan.to, { ...body, ...by, expectedVersion });
  batch(() => settleAnswer(plan, sending, answer));
  if (answer.kind === 'answered') void readSnapshot();
  if (answer.kind === 'refused') void readAll();
  return answer.kind === 'answered';
}

function settleAnswer(plan: FormPlan, sending: Sending, answer: Answer): void {
  const stays: Partial<SetupForm> = { isSaving: false };
  switch (answer.kind) {
    case 'unanswered':
      return changeForm(plan, { ...stays, said: answer.why });
    case 'refused':
      return changeForm(plan, { ...stays, ...refusedAs(answer, sending) });
    case 'answered':
      settleStored(plan, sending, answer.body);
  }
}

function settleStored(plan: FormPlan, sending: Sending, body: unknown): void {
  const { version } = body as { version: number };
  advanceForms(plan.to, { fromVersion: sending.expectedVersion, toVersion: version });
  takeBody(plan.to, body);
  const undo = sending.undoBody === null ? null : { to: plan.to, version, body: sending.undoBody };
  const said = sending.said ?? 'saved';
  const { typed } = formOf(plan);
  const typedSince = Object.entries(typed).filter(([path, value]) => value !== sending.typed?.[path]);
  changeForm(plan, {
    isSaving: false,
    typed: Object.fromEntries(typedSince),
    basedOnVersion: version,
    said,
    undo,
  });
  if (undo === null) return;
  callAfter(UNDO_MS, () => {
    if (formOf(plan).undo === undo) changeForm(plan, { undo: null });
  });
}

function refusedAs(
  { status, problem }: Extract<Answer, { kind: 'refused' }>,
  { body, undoBody }: SetupAsk,
): Partial<SetupForm> {
  const { errors = [], conflict } = problem;
  if (status === CONFLICT_STATUS && conflict !== undefined) {
    return { conflict: { ...conflict, mine: { body, undoBody } } };
  }
  if (errors.length > 0) return { errors, said: 'lookAgain' };
  return { said: status === 401 || status === 403 ? 'rights' : 'refused' };
}

/** Shows what was stored before the read that follows it. */
function takeBody(to: string, body: unknown): void {
  if (to.startsWith('/sensors/')) takeSensor(body as SensorWire);
  else if (to.startsWith('/cards/')) takeCard(body as CardSetupWire);
  else takeSettings(body as SettingsWire);
}
