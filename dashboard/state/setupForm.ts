// What is being typed in a form of Setup, over what holds: kept when the shop changes around it, sent as what differs.
import { signal } from '@preact/signals';
import type { SettingsTouchWire } from '../../server/contract/index.ts';
import { numberOf } from '../format/typedNumber.ts';
import { OWN_REASONS } from './rejection.ts';
import type { FieldError } from './sources.ts';

/** By the paths of the wire; numbers as the texts that stand for them, in metric. */
export type FormValues = Readonly<Record<string, string | boolean>>;

/** A form as it follows from what the shop holds now. */
export interface FormPlan {
  readonly id: string;
  /** Where it is put. */
  readonly to: string;
  readonly version: number;
  readonly held: FormValues;
  /** What a typed 1 is on the wire, for each path that is a number. */
  readonly numberScales: Readonly<Record<string, number>>;
  /** What each choice of a path is on the wire, where that is no text. */
  readonly choices: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
  /** Paths that may be empty, which says that there is none. */
  readonly mayBeNone: readonly string[];
  /** Paths that go along whatever was typed. */
  readonly always: readonly string[];
  /** What goes along though nobody types it. */
  readonly fixed: FormValues;
}

/** What became of saving. */
export type Said =
  'saved' | 'putBack' | 'nothing' | 'lookAgain' | 'network' | 'server' | 'refused' | 'rights';

export interface SetupUndo {
  readonly to: string;
  readonly version: number;
  readonly body: Readonly<Record<string, unknown>>;
}

/** What was to be put, and what would bring back what it replaces; null where there is no way. */
export interface SetupAsk {
  readonly body: Readonly<Record<string, unknown>>;
  readonly undoBody: Readonly<Record<string, unknown>> | null;
}

export interface SetupConflict {
  readonly version: number;
  readonly changes: readonly SettingsTouchWire[];
  readonly mine: SetupAsk;
}

export interface SetupForm {
  readonly to: string;
  readonly typed: FormValues;
  /** The version that was shown when typing began. */
  readonly basedOnVersion: number;
  readonly errors: readonly FieldError[];
  readonly said: Said | null;
  readonly conflict: SetupConflict | null;
  readonly undo: SetupUndo | null;
  readonly isSaving: boolean;
}

/** Forms that were touched; kept when one leaves the screen and comes back. */
export const $setupForms = signal<Readonly<Record<string, SetupForm>>>({});

/** A form that nobody has touched. */
function untouched({ to, version }: Pick<FormPlan, 'to' | 'version'>): SetupForm {
  return {
    to,
    typed: {},
    basedOnVersion: version,
    errors: [],
    said: null,
    conflict: null,
    undo: null,
    isSaving: false,
  };
}

/** What is kept of a form. */
export function formOf(plan: FormPlan): SetupForm {
  return $setupForms.value[plan.id] ?? untouched(plan);
}

/** What stands in a field. */
export function valueOf(plan: FormPlan, path: string): string | boolean {
  return formOf(plan).typed[path] ?? plan.held[path] ?? '';
}

/** The paths whose typed values differ from what holds. */
export function changedPaths(plan: FormPlan): string[] {
  return Object.entries(formOf(plan).typed)
    .filter(([path, value]) => value !== plan.held[path])
    .map(([path]) => path);
}

/** Notes a typed value; what was said of the field before is no longer true. */
export function typeInto(plan: FormPlan, path: string, value: string | boolean): void {
  const isFirst = changedPaths(plan).length === 0;
  const form = formOf(plan);
  setForm(plan.id, {
    ...form,
    to: plan.to,
    basedOnVersion: isFirst ? plan.version : form.basedOnVersion,
    typed: { ...form.typed, [path]: value },
    errors: form.errors.filter((error) => error.path !== path),
    said: null,
    undo: null,
  });
}

/** Changes what is kept of a form. */
export function changeForm(plan: FormPlan, changes: Partial<SetupForm>): void {
  setForm(plan.id, { ...formOf(plan), ...changes });
}

/** Forgets what was typed. */
export function dropForm(id: string): void {
  const { [id]: _, ...others } = $setupForms.peek();
  $setupForms.value = others;
}

/** After an own save the other forms of the same place rest on the new version: nobody else was there between. */
export function advanceForms(
  to: string,
  { fromVersion, toVersion }: { fromVersion: number; toVersion: number },
): void {
  $setupForms.value = Object.fromEntries(
    Object.entries($setupForms.peek()).map(([id, form]) => [
      id,
      form.to === to && form.basedOnVersion === fromVersion ? { ...form, basedOnVersion: toVersion } : form,
    ]),
  );
}

/** What can be told without the server: a field left empty, a number that is none. Bounds are the server's to judge. */
export function mistakesIn(plan: FormPlan, paths: readonly string[]): FieldError[] {
  return paths.flatMap((path): FieldError[] => {
    const value = valueOf(plan, path);
    if (typeof value === 'boolean' || (value.trim() === '' && plan.mayBeNone.includes(path))) return [];
    if (value.trim() === '') return [{ path, reason: OWN_REASONS.missing, allowed: '' }];
    const isWrong = plan.numberScales[path] !== undefined && numberOf(value) === null;
    return isWrong ? [{ path, reason: OWN_REASONS.notNumber, allowed: '' }] : [];
  });
}

/** The body with some paths, from values as they stand in a form. */
export function bodyOf(
  plan: FormPlan,
  values: FormValues,
  paths: readonly string[],
): Record<string, unknown> {
  const entries = [...new Set([...paths, ...plan.always])].map((path): [string, unknown] => [
    path,
    onWire(plan, path, values[path] ?? ''),
  ]);
  return nest([...entries, ...Object.entries(plan.fixed)]) as Record<string, unknown>;
}

function onWire(plan: FormPlan, path: string, value: string | boolean): unknown {
  if (typeof value === 'boolean') return value;
  const choices = plan.choices[path];
  if (choices !== undefined) return choices[value];
  if (value.trim() === '' && plan.mayBeNone.includes(path)) return null;
  const scale = plan.numberScales[path];
  const typed = numberOf(value);
  // Twelve digits keep what was typed and lose the dust of a product.
  return scale === undefined || typed === null ? value.trim() : Number((typed * scale).toPrecision(12));
}

/** `{'a.0.b': 1}` becomes `{a: [{b: 1}]}`. */
function nest(entries: readonly (readonly [string, unknown])[]): unknown {
  const groups = new Map<string, (readonly [string, unknown])[]>();
  for (const [path, value] of entries) {
    const [head = '', ...rest] = path.split('.');
    groups.set(head, [...(groups.get(head) ?? []), [rest.join('.'), value]]);
  }
  const named = [...groups].map(([head, below]): [string, unknown] => {
    const [first] = below;
    return [head, first !== undefined && first[0] === '' ? first[1] : nest(below)];
  });
  const isList = named.length > 0 && named.every(([head]) => /^\d+$/.test(head));
  return isList ? named.map(([, value]) => value) : Object.fromEntries(named);
}

function setForm(id: string, form: SetupForm): void {
  $setupForms.value = { ...$setupForms.peek(), [id]: form };
}
