// SenML (RFC 8428): resolves a pack into records with whole names, units and absolute times, or says what is wrong.
import type { Parsed, Rejection } from './rejection.ts';

/** A resolved record: no base fields, absolute time. Its one value keeps its own label. */
export interface SenmlRecord {
  readonly n: string;
  readonly u?: string;
  /** POSIX seconds. */
  readonly t: number;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly vd?: string;
  readonly s?: number;
  /** Which record of the pack it came from, and the base name in force there. */
  readonly index: number;
  readonly baseName: string;
}

/** RFC 8428 §4.4: the version of this document; a larger one must be refused. */
const VERSION_MAX = 10;
/** RFC 8428 §4.5.3: below this a time is relative to now. */
const RELATIVE_TIME_MAX_S = 2 ** 28;
const VALUE_LABELS = ['v', 'vs', 'vb', 'vd'] as const;
/** A map, so that a label named like a member of every object is unknown as it should be. */
const TYPE_OF_LABEL = new Map<string, 'number' | 'string' | 'boolean'>([
  ['bn', 'string'],
  ['bt', 'number'],
  ['bu', 'string'],
  ['bv', 'number'],
  ['bs', 'number'],
  ['bver', 'number'],
  ['n', 'string'],
  ['u', 'string'],
  ['t', 'number'],
  ['ut', 'number'],
  ['v', 'number'],
  ['vs', 'string'],
  ['vb', 'boolean'],
  ['vd', 'string'],
  ['s', 'number'],
]);

interface Base {
  bn: string;
  bt: number;
  bu: string | undefined;
  bv: number;
  bs: number | undefined;
}

type RawRecord = Readonly<Record<string, unknown>>;

/** Resolves a SenML pack in chronological order; times relative to now take the given POSIX seconds. */
export function resolveSenml(pack: readonly unknown[], nowS: number): Parsed<readonly SenmlRecord[]> {
  const base: Base = { bn: '', bt: 0, bu: undefined, bv: 0, bs: undefined };
  const rejections: Rejection[] = [];
  const records: SenmlRecord[] = [];
  for (const [index, raw] of pack.entries()) {
    const wrong = wrongLabel(raw, index);
    if (wrong !== null) {
      rejections.push(wrong);
      continue;
    }
    const record = raw as RawRecord;
    takeBase(base, record);
    if (isBaseOnly(record)) continue;
    const resolved = resolveRecord(record, base, { index, nowS });
    if ('reason' in resolved) rejections.push(resolved);
    else records.push(resolved);
  }
  if (rejections.length > 0) return { kind: 'rejected', rejections };
  return { kind: 'parsed', value: records.toSorted((a, b) => a.t - b.t) };
}

function wrongLabel(raw: unknown, index: number): Rejection | null {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    return { path: `${index}`, reason: 'is not a SenML record', allowed: 'an object' };
  }
  for (const [label, value] of Object.entries(raw)) {
    const type = TYPE_OF_LABEL.get(label);
    if (type === undefined && label.endsWith('_')) {
      return {
        path: `${index}.${label}`,
        reason: 'unknown mandatory label',
        allowed: 'labels of RFC 8428 §4',
      };
    }
    if (type !== undefined && (typeof value !== type || (type === 'number' && !Number.isFinite(value)))) {
      return { path: `${index}.${label}`, reason: `is not a ${type}`, allowed: `a ${type}` };
    }
  }
  const version = (raw as RawRecord)['bver'];
  if (typeof version === 'number' && version > VERSION_MAX) {
    return { path: `${index}.bver`, reason: 'unknown version', allowed: `at most ${VERSION_MAX}` };
  }
  return null;
}

/** §4.6: base values hold from their record on. */
function takeBase(base: Base, record: RawRecord): void {
  if (record['bn'] !== undefined) base.bn = record['bn'] as string;
  if (record['bt'] !== undefined) base.bt = record['bt'] as number;
  if (record['bu'] !== undefined) base.bu = record['bu'] as string;
  if (record['bv'] !== undefined) base.bv = record['bv'] as number;
  if (record['bs'] !== undefined) base.bs = record['bs'] as number;
}

function isBaseOnly(record: RawRecord): boolean {
  const labels = Object.keys(record);
  return labels.length > 0 && labels.every((label) => label.startsWith('b'));
}

function resolveRecord(
  record: RawRecord,
  base: Base,
  context: { index: number; nowS: number },
): SenmlRecord | Rejection {
  const at = (label: string): string => `${context.index}.${label}`;
  const name = base.bn + ((record['n'] as string | undefined) ?? '');
  if (!/^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/.test(name)) {
    return {
      path: at('n'),
      reason: 'name is missing or has a wrong character',
      allowed: 'RFC 8428 §4.5.1: A-Z a-z 0-9 - : . / _',
    };
  }
  const labels = VALUE_LABELS.filter((label) => record[label] !== undefined);
  const hasSum = record['s'] !== undefined || base.bs !== undefined;
  if (labels.length > 1)
    return { path: at(labels[1] as string), reason: 'more than one value', allowed: 'exactly one' };
  if (labels.length === 0 && !hasSum)
    return { path: at('v'), reason: 'no value', allowed: 'one of v, vs, vb, vd, s' };
  const timeS = base.bt + ((record['t'] as number | undefined) ?? 0);
  const unit = (record['u'] as string | undefined) ?? base.bu;
  const sum = hasSum ? ((record['s'] as number | undefined) ?? 0) + (base.bs ?? 0) : undefined;
  const label = labels[0];
  return {
    n: name,
    ...(unit === undefined ? {} : { u: unit }),
    t: timeS < RELATIVE_TIME_MAX_S ? context.nowS + timeS : timeS,
    ...(label === undefined
      ? {}
      : { [label]: label === 'v' ? (record['v'] as number) + base.bv : record[label] }),
    ...(sum === undefined ? {} : { s: sum }),
    index: context.index,
    baseName: base.bn,
  };
}
